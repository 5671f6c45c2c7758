package org.layroom.predictor.emission;

import java.util.Optional;
import java.util.stream.Stream;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.limits.RangeCheck;

/**
 * Which respirator a predicted layup calls for. Twice the likely peak near the work is compared,
 * since an estimate may be off by two, with the limit times the assigned protection factor (half
 * mask 10, fit-tested full face 50: OSHA 29 CFR 1910.134, from memory) and with what NIOSH allows
 * for styrene (cartridges on a half mask to 500 ppm, on a full face to 700 ppm, which is
 * immediately dangerous: Pocket Guide; 500 from memory). Beyond that no cartridge protects. It
 * follows the safety data sheet, local rules and licensed practice, and no mask is called safe.
 */
public enum Respirator {
  /** To ten times the limit and 500 ppm. */
  HALF_MASK(10, 500, "half mask with fresh organic-vapor cartridges"),
  /** To fifty times the limit, and below 700 ppm. */
  FULL_FACE(50, 700, "fit-tested full-face mask with fresh organic-vapor cartridges"),
  /** No cartridge. */
  SUPPLIED_AIR(Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, "pressure-demand supplied air");

  private static final double OFF_BY = 2;

  private final double protectionFactor;
  private final double mostPpm;
  private final String words;

  Respirator(double protectionFactor, double mostPpm, String words) {
    this.protectionFactor = protectionFactor;
    this.mostPpm = mostPpm;
    this.words = words;
  }

  /**
   * What covers a predicted peak.
   *
   * @param likelyPeakPpm near the work, zero or more
   */
  public static Respirator covering(double likelyPeakPpm, ExposureLimit limit) {
    RangeCheck.within("predicted peak", likelyPeakPpm, 0, 1e6, "ppm");
    if (likelyPeakPpm <= HALF_MASK.coversToPpm(limit)) {
      return HALF_MASK;
    }
    return likelyPeakPpm < FULL_FACE.coversToPpm(limit) ? FULL_FACE : SUPPLIED_AIR;
  }

  /** The highest likely peak that it covers, ppm: half of what it may be used in. */
  public double coversToPpm(ExposureLimit limit) {
    return Math.min(protectionFactor * limit.eightHourPpm(), mostPpm) / OFF_BY;
  }

  /** Whether a dose is shown only after a choice: no cartridge covers it. */
  public boolean doseBehindChoice() {
    return this == SUPPLIED_AIR;
  }

  /** The name in JSON. */
  public String id() {
    return name().toLowerCase(java.util.Locale.ROOT).replace('_', '-');
  }

  /** The one of this name in JSON. */
  public static Optional<Respirator> byId(String id) {
    return Stream.of(values()).filter(one -> one.id().equals(id)).findFirst();
  }

  /** What it is. */
  public String words() {
    return words;
  }

  /** What to do, to be shown. */
  public String instruction() {
    return this == SUPPLIED_AIR
        ? "No cartridge protects in this air. Work outdoors, or with less resin at a time, or with"
            + " supplied air."
        : "Put on a respirator: "
            + words
            + ", changed by hours and not by smell. A beard voids it. It does not replace a fan, and"
            + " it does nothing against fire or for others in the building.";
  }
}
