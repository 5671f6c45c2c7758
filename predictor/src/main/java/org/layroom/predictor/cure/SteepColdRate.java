package org.layroom.predictor.cure;

/**
 * An Arrhenius law that gets steeper in the cold, for the latest edge of a band: published dose
 * charts reach 73 to 91 kJ/mol there.
 *
 * @param warm the law from {@code knownC} up
 * @param knownC coldest temperature at which the material is known, degC
 * @param coldEa activation energy below that, kJ/mol
 */
record SteepColdRate(ArrheniusRate warm, double knownC, double coldEa) implements RateLaw {
  @Override
  public double rate(double temperatureC) {
    if (temperatureC >= knownC) {
      return warm.rate(temperatureC);
    }
    return warm.rate(knownC) * cold().rate(temperatureC);
  }

  @Override
  public double slope(double temperatureC, double rate) {
    return temperatureC >= knownC
        ? warm.slope(temperatureC, rate)
        : cold().slope(temperatureC, rate);
  }

  @Override
  public double secondSlope(double temperatureC, double rate) {
    return temperatureC >= knownC
        ? warm.secondSlope(temperatureC, rate)
        : cold().secondSlope(temperatureC, rate);
  }

  @Override
  public double thirdSlope(double temperatureC, double rate) {
    return temperatureC >= knownC
        ? warm.thirdSlope(temperatureC, rate)
        : cold().thirdSlope(temperatureC, rate);
  }

  private ArrheniusRate cold() {
    return new ArrheniusRate(coldEa, knownC);
  }

  @Override
  public int kinks() {
    return 1;
  }

  @Override
  public double kinkC(int index) {
    return knownC;
  }
}
