package org.layroom.predictor.emission;

import org.layroom.predictor.limits.RangeCheck;

/**
 * The room as a box of air.
 *
 * @param volumeM3 above 0, at most 100 000 m3
 * @param airChanges how often its air is changed
 * @param mixing K, 1 (perfectly mixed) to 10: divides the air flow everywhere, because much of what
 *     a fan moves passes the vapor by
 * @param airC -20 to 60 degC
 */
public record VentilatedRoom(double volumeM3, AirChanges airChanges, double mixing, double airC) {
  /** K where nothing else is known. */
  public static final double USUAL_MIXING = 3;

  static final double LARGEST_M3 = 100_000;

  private static final double WORST_MIXING = 10;

  public VentilatedRoom {
    RangeCheck.positive("room volume", volumeM3, LARGEST_M3, "m3");
    RangeCheck.within("mixing", mixing, 1, WORST_MIXING, "");
    RangeCheck.within("air temperature", airC, -20, 60, "degC");
  }

  /** The air flow that counts, {@code Q / K}, m3/h. */
  double effectiveM3PerH() {
    return volumeM3 * airChanges.perHour() / mixing;
  }

  /** The same as changes per hour. */
  double effectivePerHour() {
    return airChanges.perHour() / mixing;
  }

  /** This room with other air changes. */
  VentilatedRoom with(AirChanges other) {
    return new VentilatedRoom(volumeM3, other, mixing, airC);
  }
}
