package org.layroom.predictor.cure;

/**
 * How fast a network grows strong: e-fold for each 3.4 K below 20 degC, and with the propagation
 * energy of 23.6 kJ/mol from there up. A stand-in for a diffusion-controlled model (Kamal with a
 * diffusion factor, and Tg as one function of conversion, Polymer 34 (1993) 3216): hours below the
 * temperature at which a part hardened count almost nothing. Continuous at 20 degC.
 */
record QualityRate() implements RateLaw {
  /** E-fold of the rate in the glassy state, K (computed from the model at conversion 0.84). */
  private static final double E_FOLD_K = 3.4;

  private static final double REFERENCE_C = CureFigures.HOURS_REFERENCE_C;

  /** Propagation (Thermochim. Acta 289 (1996) 209: 23.59 kJ/mol). */
  private static final ArrheniusRate PROPAGATION = new ArrheniusRate(23.6, REFERENCE_C);

  @Override
  public double rate(double temperatureC) {
    return temperatureC >= REFERENCE_C
        ? PROPAGATION.rate(temperatureC)
        : StrictMath.exp((temperatureC - REFERENCE_C) / E_FOLD_K);
  }

  @Override
  public double slope(double temperatureC, double rate) {
    return temperatureC >= REFERENCE_C ? PROPAGATION.slope(temperatureC, rate) : rate / E_FOLD_K;
  }

  @Override
  public double secondSlope(double temperatureC, double rate) {
    return temperatureC >= REFERENCE_C
        ? PROPAGATION.secondSlope(temperatureC, rate)
        : rate / (E_FOLD_K * E_FOLD_K);
  }

  @Override
  public double thirdSlope(double temperatureC, double rate) {
    return temperatureC >= REFERENCE_C
        ? PROPAGATION.thirdSlope(temperatureC, rate)
        : rate / (E_FOLD_K * E_FOLD_K * E_FOLD_K);
  }

  @Override
  public int kinks() {
    return 1;
  }

  @Override
  public double kinkC(int index) {
    return REFERENCE_C;
  }
}
