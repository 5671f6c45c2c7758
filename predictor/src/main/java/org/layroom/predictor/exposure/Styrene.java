package org.layroom.predictor.exposure;

import org.layroom.predictor.limits.RangeCheck;

/**
 * Styrene (CAS 100-42-5) as a vapor: from grams to ppm, and what the air can hold. The vapor
 * pressure is the Antoine fit of Landolt-Boernstein IV/20 for 285 to 418 K; sources differ by 5 %.
 */
public final class Styrene {
  /** Molar mass, g/mol. */
  public static final double MOLAR_MASS = 104.15;

  /** Lower explosive limit, ppm (0.9 % by volume; NIOSH Pocket Guide). */
  public static final double LOWER_EXPLOSIVE_LIMIT_PPM = 9000;

  /** A tenth of the lower explosive limit, ppm. */
  public static final double TENTH_OF_EXPLOSIVE_LIMIT_PPM = 900;

  private static final double GAS_CONSTANT = 8.314462618;
  private static final double ATMOSPHERE_PA = 101_325;
  private static final double KELVIN = 273.15;
  private static final double ANTOINE_A = 21.487332648;
  private static final double ANTOINE_B = 3677.235301;
  private static final double ANTOINE_C = 49.03;
  private static final double COLDEST_C = -20;
  private static final double HOTTEST_C = 60;

  private Styrene() {}

  /**
   * {@code M P / (R T 1000)}: mg/m3 in one ppm at one atmosphere; 4.26 at 25 degC (NIOSH).
   *
   * @param airC -20 to 60 degC
   */
  public static double milligramsPerM3InOnePpm(double airC) {
    return MOLAR_MASS * ATMOSPHERE_PA / (GAS_CONSTANT * kelvin(airC) * 1000);
  }

  /**
   * Saturation pressure, Pa.
   *
   * @param airC -20 to 60 degC; fitted from 12 degC up
   */
  public static double vaporPressurePa(double airC) {
    return StrictMath.exp(ANTOINE_A - ANTOINE_B / (kelvin(airC) - ANTOINE_C));
  }

  /** The most that air of this temperature can hold, ppm. */
  public static double saturationPpm(double airC) {
    return vaporPressurePa(airC) / ATMOSPHERE_PA * 1e6;
  }

  private static double kelvin(double airC) {
    return RangeCheck.within("air temperature", airC, COLDEST_C, HOTTEST_C, "degC") + KELVIN;
  }
}
