package org.layroom.predictor.exposure;

import java.util.List;

/**
 * Several vapors at once: {@code sum(C_i / L_i)}, where above 1 the mixture is over the limit
 * though no part of it is (29 CFR 1910.1000(d)(2)(i)).
 */
public final class MixtureLimit {
  /**
   * One vapor.
   *
   * @param ppm its average, zero or more
   * @param limitPpm its limit, above zero
   */
  public record Part(double ppm, double limitPpm) {
    public Part {
      if (!(ppm >= 0 && ppm < Double.POSITIVE_INFINITY)) {
        throw new IllegalArgumentException("vapor " + ppm + " ppm must be zero or more");
      }
      if (!(limitPpm > 0 && limitPpm < Double.POSITIVE_INFINITY)) {
        throw new IllegalArgumentException("limit " + limitPpm + " ppm must be above zero");
      }
    }
  }

  private MixtureLimit() {}

  /** The sum of the parts of their limits; above 1 is over. */
  public static double ofLimits(List<Part> parts) {
    return parts.stream().mapToDouble(part -> part.ppm() / part.limitPpm()).sum();
  }
}
