package org.layroom.predictor.air;

/**
 * Dew point and water content of air by the Magnus formula over water, {@code es = 611.2 Pa exp(a t
 * / (b + t))} with a = 17.62 and b = 243.12 degC (WMO-No. 8, Guide to Instruments and Methods of
 * Observation). Against IAPWS-IF97 the dew point is within 0.05 K over 5 to 40 degC and 20 to 95 %
 * relative humidity where it lies above 0 degC. Below 0 degC the value is the dew point over water,
 * not the frost point.
 */
public final class MoistAir {
  private static final double ES0_PA = 611.2;
  private static final double A = 17.62;
  private static final double B_C = 243.12;

  /** Specific gas constant of water vapor, J/(kg K). */
  private static final double RW = 461.52;

  private static final double ZERO_C_IN_K = 273.15;
  private static final double COLDEST_C = -45;
  private static final double HOTTEST_C = 60;

  private MoistAir() {}

  /**
   * Saturation pressure of water vapor over water, Pa.
   *
   * @param tempC air temperature, -45 to 60 degC
   * @throws IllegalArgumentException outside that range
   */
  public static double saturationPressurePa(double tempC) {
    requireTemperature(tempC);
    return ES0_PA * StrictMath.exp(A * tempC / (B_C + tempC));
  }

  /**
   * Dew point over water, degC: where this air would begin to wet a surface.
   *
   * @param tempC air temperature, -45 to 60 degC
   * @param rhPct relative humidity, above 0 up to 100 %
   * @throws IllegalArgumentException outside these ranges
   */
  public static double dewPointC(double tempC, double rhPct) {
    requireTemperature(tempC);
    requireHumidity(rhPct);
    if (rhPct == 100) {
      return tempC;
    }
    double gamma = StrictMath.log(rhPct / 100) + A * tempC / (B_C + tempC);
    return B_C * gamma / (A - gamma);
  }

  /**
   * Water vapor in the air, g per cubic meter, as an ideal gas.
   *
   * @param tempC air temperature, -45 to 60 degC
   * @param rhPct relative humidity, above 0 up to 100 %
   * @throws IllegalArgumentException outside these ranges
   */
  public static double absoluteHumidityGPerM3(double tempC, double rhPct) {
    requireHumidity(rhPct);
    double vaporPa = saturationPressurePa(tempC) * rhPct / 100;
    return 1000 * vaporPa / (RW * (tempC + ZERO_C_IN_K));
  }

  private static void requireTemperature(double tempC) {
    if (!(tempC >= COLDEST_C && tempC <= HOTTEST_C)) {
      throw new IllegalArgumentException(
          "air temperature " + tempC + " °C must be between -45 and 60 degC");
    }
  }

  private static void requireHumidity(double rhPct) {
    if (!(rhPct > 0 && rhPct <= 100)) {
      throw new IllegalArgumentException(
          "relative humidity " + rhPct + " % must be above 0 and up to 100 %");
    }
  }
}
