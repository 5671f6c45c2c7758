package org.layroom.predictor.calibration;

import java.util.List;
import java.util.Optional;
import org.layroom.predictor.cure.MaterialPosterior;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.GelPoint;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;

/**
 * What a can's data sheet says of gel. Where its table of gel times and its single gel time differ,
 * the table counts, the gel time is as uncertain as they lie apart, and that is said.
 *
 * @param prior what is believed before any gel test
 * @param contradiction of table and single gel time, in words
 */
record DataSheet(CanPrior prior, Optional<String> contradiction) {
  /** Logarithm: two rows of a table differ by so much once in fifty times (0.10 each). */
  private static final double APART = 0.33;

  /** Reads it; with two or more rows activation energy and dose exponent are fitted. */
  static DataSheet of(Material material) throws InvalidMaterial {
    GelPoint gel = material.gel();
    Optional<DataSheetFit> fit = fit(material);
    if (fit.isEmpty()) {
      return new DataSheet(
          CanPrior.untested(
              MaterialPosterior.untested(
                  gel.minutes(),
                  gel.temperatureC(),
                  gel.doseByWeightPct(),
                  material.activationEnergyKJPerMolOrTypical(),
                  material.doseExponentOrTypical())),
          Optional.empty());
    }
    DataSheetFit table = fit.get();
    MaterialPosterior fitted =
        MaterialPosterior.untested(
                table.gelMinutes(),
                gel.temperatureC(),
                gel.doseByWeightPct(),
                table.Ea(),
                table.doseExponent())
            .withFitted(table.Ea(), table.sdEa(), table.doseExponent(), table.sdDoseExponent());
    double apart = Math.abs(StrictMath.log(gel.minutes() / table.gelMinutes()));
    if (apart <= APART) {
      return new DataSheet(CanPrior.fitted(fitted), Optional.empty());
    }
    return new DataSheet(
        CanPrior.fitted(fitted.doubting(apart)), Optional.of(words(gel, table.gelMinutes())));
  }

  private static String words(GelPoint gel, double tableMinutes) {
    return "The can's gel time is "
        + Words.minutes(gel.minutes())
        + " at "
        + Words.celsius(gel.temperatureC())
        + " with "
        + Words.percent(gel.doseByWeightPct())
        + ", but its table gives "
        + Words.minutes(tableMinutes)
        + ". The table counts; times are less certain until you test. Read the data sheet again.";
  }

  static Optional<DataSheetFit> fit(Material material) throws InvalidMaterial {
    List<GelPoint> rows = material.gelTable();
    if (rows.size() < 2) {
      return Optional.empty();
    }
    return Optional.of(
        DataSheetFit.of(
            material.gel(),
            rows,
            material.activationEnergyKJPerMolOrTypical(),
            material.doseExponentOrTypical()));
  }
}
