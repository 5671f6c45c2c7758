package org.layroom.predictor.cure;

import org.layroom.predictor.hardening.PartAge;

/**
 * How a part's hardness at its own temperature counts hours. Half of the cases follow Arrhenius and
 * half degree-hours of the same slope at 20 degC: neither law is better for every can (Lee and
 * Hover, ACI Materials Journal 112 (2015) 781), so the difference belongs into the band. It goes on
 * in the cold, slowly.
 */
public final class HardeningClock {
  /**
   * Likely activation energy of hardening, kJ/mol (chosen between 34 of a kinetic model and 83 of a
   * trade table).
   */
  static final double EA = 55;

  /** Its spread: plausible 25 to 85. */
  static final double SD_EA = 18;

  private static final double LEAST_EA = 10;

  private HardeningClock() {}

  /** The law of one activation energy, kJ/mol: Arrhenius or degree-hours. */
  static RateLaw law(double Ea, boolean arrhenius) {
    ArrheniusRate rate = new ArrheniusRate(Math.max(LEAST_EA, Ea), CureFigures.HOURS_REFERENCE_C);
    return arrhenius
        ? rate
        : new DegreeHourRate(rate.tangentDatumC(), CureFigures.HOURS_REFERENCE_C);
  }

  /**
   * How old a part is as hardening counts it: the mean of both laws, cold hours in full. Its spread
   * is what one standard deviation of the activation energy and the choice of law change.
   *
   * @param path the mold's temperature from mixing on
   * @param untilMinutes when the part was looked at, minutes after mixing, above zero
   */
  public static PartAge age(TemperaturePath path, double untilMinutes) {
    double arrhenius = RateIntegral.until(path, law(EA, true), untilMinutes);
    double degrees = RateIntegral.until(path, law(EA, false), untilMinutes);
    double steeper = RateIntegral.until(path, law(EA + SD_EA, true), untilMinutes);
    double energy = StrictMath.log(steeper / arrhenius);
    double likely = (arrhenius + degrees) / 2;
    double choice = StrictMath.log(arrhenius / likely);
    return new PartAge(likely / 60, StrictMath.hypot(energy, choice));
  }

  /** How much longer hardening takes at a temperature, degC, than at 20 degC: likely. */
  public static double slower(double temperatureC) {
    double rate = law(EA, true).rate(temperatureC) + law(EA, false).rate(temperatureC);
    return 2 / rate;
  }
}
