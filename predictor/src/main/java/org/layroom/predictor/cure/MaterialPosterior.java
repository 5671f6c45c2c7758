package org.layroom.predictor.cure;

import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What is believed about one material, as a joint normal of four numbers: the logarithm of its gel
 * time in a cup at the reference point, its activation energy (kJ/mol), its dose exponent, and the
 * logarithm of film gel over cup gel. A gel test is linear in them, so that an observation is one
 * exact normal update (a Kalman step). Several explanations of the same tests make a mixture, which
 * is wider than each ({@link #oneOf}).
 *
 * <p>Gel time: {@code t = t_ref (c_ref / c)^n exp[(Ea/R)(1/T - 1/T_ref)]}.
 */
public final class MaterialPosterior {
  static final int LN_GEL = 0;
  static final int EA = 1;
  static final int DOSE_EXPONENT = 2;
  static final int LN_FILM_RATIO = 3;
  static final int SIZE = 4;

  private final double referenceC;
  private final double referenceDosePct;
  private final double coldestKnownC;
  private final double sheetEa;
  private final double sheetDoseExponent;
  private final double[] mean;
  private final double[][] covariance;

  private MaterialPosterior(
      double referenceC,
      double referenceDosePct,
      double coldestKnownC,
      double sheetEa,
      double sheetDoseExponent,
      double[] mean,
      double[][] covariance) {
    this.referenceC = referenceC;
    this.referenceDosePct = referenceDosePct;
    this.coldestKnownC = coldestKnownC;
    this.sheetEa = sheetEa;
    this.sheetDoseExponent = sheetDoseExponent;
    this.mean = mean;
    this.covariance = covariance;
  }

  /**
   * An untested can: the four numbers independent of each other, with the spreads of {@link
   * PriorSpreads}.
   *
   * @param gelMinutes gel time in a cup at the reference point, above zero
   * @param referenceC temperature of the reference point, degC
   * @param referenceDosePct dose of the reference point, % by weight, above zero
   * @param Ea activation energy, kJ/mol, above zero
   * @param doseExponent n, above zero
   */
  public static MaterialPosterior untested(
      double gelMinutes,
      double referenceC,
      double referenceDosePct,
      double Ea,
      double doseExponent) {
    require("gel time", gelMinutes, "min");
    require("reference dose", referenceDosePct, "% by weight");
    require("activation energy", Ea, "kJ/mol");
    require("dose exponent", doseExponent, "");
    double[] mean = {
      StrictMath.log(gelMinutes), Ea, doseExponent, StrictMath.log(PriorSpreads.FILM_RATIO)
    };
    double[] sd = {
      PriorSpreads.LN_GEL, PriorSpreads.EA, PriorSpreads.DOSE_EXPONENT, PriorSpreads.LN_FILM_RATIO
    };
    double[][] covariance = new double[SIZE][SIZE];
    for (int i = 0; i < SIZE; i++) {
      covariance[i][i] = sd[i] * sd[i];
    }
    return new MaterialPosterior(
        referenceC, referenceDosePct, referenceC, Ea, doseExponent, mean, covariance);
  }

  private static void require(String what, double value, String unit) {
    if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(
          (what + " " + value + " " + unit).strip() + " must be above 0");
    }
  }

  /** Likely gel time in a cup at the reference point, minutes. */
  public double referenceGelMinutes() {
    return StrictMath.exp(mean[LN_GEL]);
  }

  /** Temperature of the reference point, degC. */
  public double referenceC() {
    return referenceC;
  }

  /** Dose of the reference point, % by weight. */
  public double referenceDosePct() {
    return referenceDosePct;
  }

  /** Coldest temperature at which anything is known of this can, degC. */
  public double coldestKnownC() {
    return coldestKnownC;
  }

  /** Likely activation energy, kJ/mol. */
  public double likelyEa() {
    return mean[EA];
  }

  /** Likely dose exponent. */
  public double likelyDoseExponent() {
    return mean[DOSE_EXPONENT];
  }

  /**
   * Activation energy before any gel test, kJ/mol: reading errors are weighed with it, so that a
   * test never makes them look larger.
   */
  public double sheetEa() {
    return sheetEa;
  }

  /** Dose exponent before any gel test. */
  public double sheetDoseExponent() {
    return sheetDoseExponent;
  }

  /** Likely film gel over cup gel. */
  public double likelyFilmRatio() {
    return StrictMath.exp(mean[LN_FILM_RATIO]);
  }

  /** Standard deviation of the activation energy, kJ/mol. */
  public double sdEa() {
    return StrictMath.sqrt(covariance[EA][EA]);
  }

  /** The likely law around the reference temperature. */
  public ArrheniusRate likelyRate() {
    return new ArrheniusRate(mean[EA], referenceC);
  }

  /** Likely gel time in a cup, minutes, at a dose, counted at the reference temperature. */
  public double likelyGelAtReferenceC(double doseByWeightPct) {
    return StrictMath.exp(
        mean[LN_GEL] + mean[DOSE_EXPONENT] * StrictMath.log(referenceDosePct / doseByWeightPct));
  }

  /** Likely gel time in a cup, minutes, at a temperature (degC) and a dose (% by weight). */
  public double likelyGelMinutes(double temperatureC, double doseByWeightPct) {
    return likelyGelAtReferenceC(doseByWeightPct) / likelyRate().rate(temperatureC);
  }

  /**
   * The dose for which the likely gel time in a cup is the one wanted, % by weight: {@code c =
   * c_ref (t_ref / (t r(T)))^(1/n)}. Not clamped to anything.
   */
  public double likelyDosePct(double temperatureC, double gelMinutes) {
    double lnFaster = mean[LN_GEL] + likelyRate().lnTime(temperatureC) - StrictMath.log(gelMinutes);
    return referenceDosePct * StrictMath.exp(lnFaster / mean[DOSE_EXPONENT]);
  }

  /**
   * Standard deviation of the logarithm of a gel time at given conditions, from the belief alone.
   *
   * @param film whether the gel time is that of a thin layer
   */
  public double sdLnGel(double temperatureC, double doseByWeightPct, boolean film) {
    double[] h = weights(temperatureC, doseByWeightPct, film);
    return StrictMath.sqrt(dot(h, times(covariance, h)));
  }

  /**
   * The belief after a gel time has been seen.
   *
   * @param temperatureC temperature of the test, degC
   * @param doseByWeightPct dose of the test, % by weight
   * @param film whether it was a thin layer instead of a cup
   * @param minutes the gel time seen, above zero
   * @param sdLn standard deviation of its logarithm from everything but the belief, above zero
   */
  public MaterialPosterior observing(
      double temperatureC, double doseByWeightPct, boolean film, double minutes, double sdLn) {
    require("gel time", minutes, "min");
    require("spread of a gel test", sdLn, "");
    double[] h = weights(temperatureC, doseByWeightPct, film);
    double[] ph = times(covariance, h);
    double variance = dot(h, ph) + sdLn * sdLn;
    double surprise = StrictMath.log(minutes) - dot(h, mean);
    double[] newMean = new double[SIZE];
    double[][] newCovariance = new double[SIZE][SIZE];
    for (int i = 0; i < SIZE; i++) {
      newMean[i] = mean[i] + ph[i] * surprise / variance;
      for (int j = 0; j < SIZE; j++) {
        newCovariance[i][j] = covariance[i][j] - ph[i] * ph[j] / variance;
      }
    }
    return new MaterialPosterior(
        referenceC,
        referenceDosePct,
        Math.min(coldestKnownC, temperatureC),
        sheetEa,
        sheetDoseExponent,
        newMean,
        newCovariance);
  }

  /**
   * Logarithm of how likely a gel time was before it was seen, up to a constant; arguments as for
   * {@link #observing}.
   */
  public double lnEvidence(
      double temperatureC, double doseByWeightPct, boolean film, double minutes, double sdLn) {
    double[] h = weights(temperatureC, doseByWeightPct, film);
    double variance = dot(h, times(covariance, h)) + sdLn * sdLn;
    double surprise = StrictMath.log(minutes) - dot(h, mean);
    return -0.5 * (surprise * surprise / variance + StrictMath.log(variance));
  }

  /**
   * The belief when one of several is true: the normal with the mean and covariance of them all.
   *
   * @param beliefs about the same can, from the same data sheet, at least one
   * @param weights how likely each is, adding up to 1
   */
  public static MaterialPosterior oneOf(List<MaterialPosterior> beliefs, double[] weights) {
    double[] mean = new double[SIZE];
    double[][] covariance = new double[SIZE][SIZE];
    double coldestKnownC = Double.POSITIVE_INFINITY;
    for (int k = 0; k < weights.length; k++) {
      MaterialPosterior belief = beliefs.get(k);
      coldestKnownC = Math.min(coldestKnownC, belief.coldestKnownC);
      for (int i = 0; i < SIZE; i++) {
        mean[i] += weights[k] * belief.mean[i];
      }
    }
    for (int k = 0; k < weights.length; k++) {
      MaterialPosterior belief = beliefs.get(k);
      for (int i = 0; i < SIZE; i++) {
        for (int j = 0; j < SIZE; j++) {
          double apart = (belief.mean[i] - mean[i]) * (belief.mean[j] - mean[j]);
          covariance[i][j] += weights[k] * (belief.covariance[i][j] + apart);
        }
      }
    }
    MaterialPosterior any = beliefs.get(0);
    return new MaterialPosterior(
        any.referenceC,
        any.referenceDosePct,
        coldestKnownC,
        any.sheetEa,
        any.sheetDoseExponent,
        mean,
        covariance);
  }

  /**
   * The belief with a given likely activation energy and dose exponent, and the gel time moved so
   * that nothing changes at the given conditions.
   *
   * @param Ea kJ/mol
   * @param doseExponent n
   */
  public MaterialPosterior holding(
      double Ea, double doseExponent, double atTemperatureC, double atDosePct) {
    double[] h = weights(atTemperatureC, atDosePct, false);
    double[] held = mean.clone();
    held[EA] = Ea;
    held[DOSE_EXPONENT] = doseExponent;
    held[LN_GEL] += dot(h, mean) - dot(h, held);
    return new MaterialPosterior(
        referenceC, referenceDosePct, coldestKnownC, sheetEa, sheetDoseExponent, held, covariance);
  }

  /**
   * The belief with more doubt about the gel time itself.
   *
   * @param sdLn added standard deviation of its logarithm, zero or more
   */
  public MaterialPosterior doubting(double sdLn) {
    double[][] wider = copy(covariance);
    wider[LN_GEL][LN_GEL] += sdLn * sdLn;
    return new MaterialPosterior(
        referenceC, referenceDosePct, coldestKnownC, sheetEa, sheetDoseExponent, mean, wider);
  }

  /**
   * The belief with wider spreads of two of its numbers, nothing else known of them.
   *
   * @param ea factor on the standard deviation of the activation energy, above zero
   * @param doseExponent the same for the dose exponent
   */
  public MaterialPosterior stretched(double ea, double doseExponent) {
    double[] factor = {1, ea, doseExponent, 1};
    double[][] wider = copy(covariance);
    for (int i = 0; i < SIZE; i++) {
      for (int j = 0; j < SIZE; j++) {
        wider[i][j] *= factor[i] * factor[j];
      }
    }
    return new MaterialPosterior(
        referenceC, referenceDosePct, coldestKnownC, sheetEa, sheetDoseExponent, mean, wider);
  }

  /**
   * The belief of a can that has become slower, all else as it was.
   *
   * @param lnGel added to the logarithm of the gel time
   */
  public MaterialPosterior slower(double lnGel) {
    double[] later = mean.clone();
    later[LN_GEL] += lnGel;
    return new MaterialPosterior(
        referenceC, referenceDosePct, coldestKnownC, sheetEa, sheetDoseExponent, later, covariance);
  }

  /**
   * The belief with an activation energy and a dose exponent known from a data sheet's own table.
   *
   * @param Ea kJ/mol, with its standard deviation
   * @param doseExponent with its standard deviation
   */
  public MaterialPosterior withFitted(
      double Ea, double sdEa, double doseExponent, double sdDoseExponent) {
    double[] fitted = mean.clone();
    fitted[EA] = Ea;
    fitted[DOSE_EXPONENT] = doseExponent;
    double[][] narrower = copy(covariance);
    narrower[EA][EA] = sdEa * sdEa;
    narrower[DOSE_EXPONENT][DOSE_EXPONENT] = sdDoseExponent * sdDoseExponent;
    return new MaterialPosterior(
        referenceC, referenceDosePct, coldestKnownC, Ea, doseExponent, fitted, narrower);
  }

  @Override
  public boolean equals(@Nullable Object other) {
    return other instanceof MaterialPosterior that
        && referenceC == that.referenceC
        && referenceDosePct == that.referenceDosePct
        && coldestKnownC == that.coldestKnownC
        && sheetEa == that.sheetEa
        && sheetDoseExponent == that.sheetDoseExponent
        && Arrays.equals(mean, that.mean)
        && Arrays.deepEquals(covariance, that.covariance);
  }

  @Override
  public int hashCode() {
    return Arrays.hashCode(mean);
  }

  double[] mean() {
    return mean.clone();
  }

  /** Lower Cholesky factor; a direction without doubt gives a column of zeros. */
  double[][] cholesky() {
    double[][] root = new double[SIZE][SIZE];
    for (int j = 0; j < SIZE; j++) {
      double pivot = covariance[j][j];
      for (int k = 0; k < j; k++) {
        pivot -= root[j][k] * root[j][k];
      }
      root[j][j] = StrictMath.sqrt(Math.max(0, pivot));
      for (int i = j + 1; i < SIZE && root[j][j] > 0; i++) {
        double value = covariance[i][j];
        for (int k = 0; k < j; k++) {
          value -= root[i][k] * root[j][k];
        }
        root[i][j] = value / root[j][j];
      }
    }
    return root;
  }

  private double[] weights(double temperatureC, double doseByWeightPct, boolean film) {
    return new double[] {
      1,
      ArrheniusRate.perEa(temperatureC, referenceC),
      StrictMath.log(referenceDosePct / doseByWeightPct),
      film ? 1 : 0
    };
  }

  private static double[] times(double[][] matrix, double[] vector) {
    double[] product = new double[vector.length];
    for (int i = 0; i < vector.length; i++) {
      product[i] = dot(matrix[i], vector);
    }
    return product;
  }

  private static double dot(double[] left, double[] right) {
    double sum = 0;
    for (int i = 0; i < left.length; i++) {
      sum += left[i] * right[i];
    }
    return sum;
  }

  private static double[][] copy(double[][] matrix) {
    return Arrays.stream(matrix).map(double[]::clone).toArray(double[][]::new);
  }
}
