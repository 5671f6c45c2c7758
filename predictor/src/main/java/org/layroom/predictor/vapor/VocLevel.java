package org.layroom.predictor.vapor;

/**
 * The level of a raw metal-oxide VOC signal against this room's own clean air: {@code L = 2^((S0 -
 * S) / 870)}. 870 ticks per doubling is the SGP40 data sheet's typical figure for ethanol (710 to
 * 1030); no styrene curve is published, so the level is never ppm.
 */
public final class VocLevel {
  /** Ticks by which the raw signal falls when the vapor doubles. */
  public static final double TICKS_PER_DOUBLING = 870;

  /**
   * A mean of 15 min from here on is a rise, times clean air (this project's own choice, without
   * meaning for health).
   */
  public static final double RISE_FROM = 2;

  private static final int LARGEST_TICKS = 65_535;

  private VocLevel() {}

  /**
   * How many times this room's clean air.
   *
   * @param cleanAirTicks the raw signal measured on purpose in clean air, 0 to 65535 ticks
   * @param ticks the raw signal now, 0 to 65535 ticks
   * @throws IllegalArgumentException outside that range
   */
  public static double timesCleanAir(double cleanAirTicks, double ticks) {
    requireTicks("clean-air reading", cleanAirTicks);
    requireTicks("raw VOC signal", ticks);
    return StrictMath.pow(2, (cleanAirTicks - ticks) / TICKS_PER_DOUBLING);
  }

  private static void requireTicks(String what, double ticks) {
    if (!(ticks >= 0 && ticks <= LARGEST_TICKS)) {
      throw new IllegalArgumentException(
          what + " " + ticks + " ticks must be between 0 and 65535 ticks");
    }
  }
}
