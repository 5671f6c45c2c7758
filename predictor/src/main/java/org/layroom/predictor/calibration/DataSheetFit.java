package org.layroom.predictor.calibration;

import java.util.ArrayList;
import java.util.List;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.layroom.predictor.cure.ArrheniusRate;
import org.layroom.predictor.cure.PriorSpreads;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.GelPoint;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.MaterialProblem;

/**
 * Activation energy and dose exponent from a data sheet's table of gel times: linear regression of
 * {@code ln t = ln t_ref + (Ea/R)(1/T - 1/T_ref) + n ln(c_ref/c)}, held toward the typical values
 * by their spreads, so that a table at one temperature or one dose leaves the other number typical.
 *
 * @param gelMinutes fitted gel time at the reference point
 * @param Ea kJ/mol
 * @param sdEa its standard deviation
 * @param doseExponent n
 * @param sdDoseExponent its standard deviation
 * @param residuals each row's own gel time against the fit
 */
public record DataSheetFit(
    double gelMinutes,
    double Ea,
    double sdEa,
    double doseExponent,
    double sdDoseExponent,
    List<Residual> residuals) {

  /**
   * One row of the table beside the fit.
   *
   * @param row as printed
   * @param fittedMinutes what the fit gives for the same temperature and dose
   */
  public record Residual(GelPoint row, double fittedMinutes) {
    /** How much longer the printed gel time is than the fitted one, %. */
    public double offPct() {
      return 100 * (row.minutes() / fittedMinutes - 1);
    }
  }

  /** Data sheets print gel times as ranges: logarithm of one row. */
  private static final double LN_ROW = 0.10;

  private static final double LN_FREE = 10;
  private static final double LARGEST_OFF_PCT = 35;

  public DataSheetFit {
    residuals = List.copyOf(residuals);
  }

  /**
   * Fits a table.
   *
   * @param reference the point that gel times are reckoned from; only its temperature and dose
   *     count
   * @param rows at least two
   * @param typicalEa where the table says nothing, kJ/mol
   * @param typicalDoseExponent where the table says nothing
   * @throws InvalidMaterial when rows contradict each other or any sane range
   */
  public static DataSheetFit of(
      GelPoint reference, List<GelPoint> rows, double typicalEa, double typicalDoseExponent)
      throws InvalidMaterial {
    double weight = 1 / (LN_ROW * LN_ROW);
    double freeWeight = 1 / (LN_FREE * LN_FREE);
    double eaWeight = 1 / (PriorSpreads.EA * PriorSpreads.EA);
    double nWeight = 1 / (PriorSpreads.DOSE_EXPONENT * PriorSpreads.DOSE_EXPONENT);
    RealMatrix information =
        MatrixUtils.createRealDiagonalMatrix(new double[] {freeWeight, eaWeight, nWeight});
    RealVector sum =
        MatrixUtils.createRealVector(
            new double[] {
              freeWeight * StrictMath.log(reference.minutes()),
              eaWeight * typicalEa,
              nWeight * typicalDoseExponent
            });
    for (GelPoint row : rows) {
      RealVector h = weights(reference, row);
      information = information.add(h.outerProduct(h).scalarMultiply(weight));
      sum = sum.add(h.mapMultiply(weight * StrictMath.log(row.minutes())));
    }
    RealMatrix covariance = MatrixUtils.inverse(information);
    RealVector fitted = covariance.operate(sum);
    List<Residual> residuals = new ArrayList<>();
    for (GelPoint row : rows) {
      residuals.add(new Residual(row, StrictMath.exp(weights(reference, row).dotProduct(fitted))));
    }
    DataSheetFit fit =
        new DataSheetFit(
            StrictMath.exp(fitted.getEntry(0)),
            fitted.getEntry(1),
            StrictMath.sqrt(covariance.getEntry(1, 1)),
            fitted.getEntry(2),
            StrictMath.sqrt(covariance.getEntry(2, 2)),
            residuals);
    fit.refuseContradictions();
    return fit;
  }

  private static RealVector weights(GelPoint reference, GelPoint row) {
    return MatrixUtils.createRealVector(
        new double[] {
          1,
          ArrheniusRate.perEa(row.temperatureC(), reference.temperatureC()),
          StrictMath.log(reference.doseByWeightPct() / row.doseByWeightPct())
        });
  }

  private void refuseContradictions() throws InvalidMaterial {
    List<MaterialProblem> problems = new ArrayList<>();
    if (!(Ea >= 30 && Ea <= 100)) {
      problems.add(
          problem(
              "activationEnergyKJPerMol",
              Words.number(Ea, 0) + " kJ/mol",
              "30 to 100 kJ/mol",
              "The rows of the table give an activation energy of "
                  + Words.number(Ea, 0)
                  + " kJ/mol; 30 to 100 is plausible. Check the temperatures and minutes."));
    }
    if (!(doseExponent >= 0.3 && doseExponent <= 1.5)) {
      problems.add(
          problem(
              "doseExponent",
              Words.number(doseExponent, 2),
              "0.3 to 1.5",
              "The rows of the table give a dose exponent of "
                  + Words.number(doseExponent, 2)
                  + "; 0.3 to 1.5 is plausible. Check the doses and minutes."));
    }
    for (int i = 0; i < residuals.size(); i++) {
      Residual residual = residuals.get(i);
      if (Math.abs(residual.offPct()) > LARGEST_OFF_PCT) {
        problems.add(
            problem(
                "gelTable[" + i + "]",
                Words.minutes(residual.row().minutes()),
                Words.minutes(residual.fittedMinutes()) + " within 35 %",
                "Row "
                    + (i + 1)
                    + " says "
                    + Words.minutes(residual.row().minutes())
                    + "; the other rows predict "
                    + Words.minutes(residual.fittedMinutes())
                    + ": read it again."));
      }
    }
    if (!problems.isEmpty()) {
      throw new InvalidMaterial(problems);
    }
  }

  private static MaterialProblem problem(String field, String value, String limit, String reason) {
    return new MaterialProblem(field, value, limit, reason);
  }
}
