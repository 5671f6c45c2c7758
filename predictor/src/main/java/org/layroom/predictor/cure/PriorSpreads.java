package org.layroom.predictor.cure;

/**
 * How far apart cans, shops and readings are, as standard deviations. A "plausible" range in the
 * sources is taken as the 5 to 95 % range of a normal (activation energy, dose exponent) or a
 * lognormal (times, multiples, ratios): 3.29 standard deviations wide.
 */
public final class PriorSpreads {
  /** Width of a 5 to 95 % range in standard deviations. */
  static final double FIVE_TO_95 = 3.289707253902945;

  /** Logarithm of the gel time of an untested can against its data sheet. */
  public static final double LN_GEL = 0.40;

  /** Activation energy, kJ/mol: plausible 33 to 78 (published pairs run 31 to 91). */
  public static final double EA = 45 / FIVE_TO_95;

  /** Dose exponent: plausible 0.4 to 1.2 (near 1 at low doses, 0.3 to 0.6 at high). */
  public static final double DOSE_EXPONENT = 0.8 / FIVE_TO_95;

  /** Film gel over cup gel, median of a plausible 1 to 2 (from memory, until tested). */
  public static final double FILM_RATIO = StrictMath.sqrt(2);

  /** Logarithm of film gel over cup gel. */
  public static final double LN_FILM_RATIO = StrictMath.log(2) / FIVE_TO_95;

  /** Logarithm of one gel time taken with a stick. */
  public static final double LN_STICK_TEST = 0.10;

  /** One temperature reading, K: {@link #SHARED_K} and {@link #READING_K} together. */
  public static final double SENSOR_K = 1.0;

  /**
   * What one thermometer puts into every reading of a shop, K (chosen: most of the error of a
   * sensor is the same each time).
   */
  public static final double SHARED_K = 0.8;

  /** What is new in each reading, K: where the sensor sits, drafts, when it was read. */
  public static final double READING_K = 0.6;

  /** Relative error of one measured dose. */
  public static final double DOSE = 0.05;

  /** Added for a resin or mold temperature that is taken from the other, K (chosen here). */
  public static final double BORROWED_TEMPERATURE_K = 2.0;

  /** Added to {@link #LN_GEL} for catalyst of unknown age or a dose under the can's lowest. */
  public static final double LN_DOUBTFUL = 0.15;

  /** Relative error of a dose in ml when the catalyst's density is unknown: 1.02 to 1.18 kg/l. */
  public static final double UNKNOWN_CATALYST_DENSITY = StrictMath.log(1.18 / 1.017) / 2;

  /** Relative error of a material's weight from its volume when its density is unknown. */
  public static final double UNKNOWN_DENSITY = 0.03;

  /** Stop wetting out: 0.6 to 0.8 of the gel time. */
  static final double LN_STOP = StrictMath.log(0.8 / 0.6) / FIVE_TO_95;

  /** Exotherm peak: 1.2 to 2.6 gel times (Polymers 2024, 16(17), 2391). */
  static final double LN_EXOTHERM = StrictMath.log(2.6 / 1.2) / FIVE_TO_95;

  /** Ready to laminate: 3.5 to 4.5 gel times (gel coat data sheets). */
  static final double LN_LAMINATE = StrictMath.log(4.5 / 3.5) / FIVE_TO_95;

  /**
   * Hours until a part may be loaded, sensor error included: published times run from 2 to 21 days
   * (chosen).
   */
  static final double LN_LOAD = 0.5;

  private PriorSpreads() {}
}
