package org.layroom.predictor.hardening;

/**
 * Where a can lies among all cans, in standard deviations of what cans differ by: above zero
 * hardens later. Nothing learned is mean 0 and spread 1.
 *
 * @param mean likely place
 * @param sd spread of that, 0 to 1
 * @param ofThisCan how many outcomes of this can it rests on
 * @param ofOtherCans how many outcomes of the shop's other cans
 */
public record Learned(double mean, double sd, int ofThisCan, int ofOtherCans) {
  public Learned {
    if (!(sd >= 0 && sd <= 1 + 1e-9) || !Double.isFinite(mean)) {
      throw new IllegalArgumentException("learned " + mean + " with a spread of " + sd);
    }
  }

  /** Nothing has been learned. */
  public static Learned nothing() {
    return new Learned(0, 1, 0, 0);
  }

  /** What it rests on, in words. */
  public String words() {
    if (ofThisCan == 0 && ofOtherCans == 0) {
      return "no part of yours yet";
    }
    String own = count(ofThisCan) + " of this can";
    return ofOtherCans == 0 ? own : own + " and " + ofOtherCans + " of other cans in this shop";
  }

  private static String count(int outcomes) {
    return outcomes == 1 ? "1 outcome" : outcomes + " outcomes";
  }
}
