package org.layroom.predictor.hardening;

/**
 * The fingernail test that would teach most: at the age at which hard and soft are equally likely.
 *
 * @param hours equivalent hours at 20 degC after mixing
 * @param sdLnAfter what the belief's spread would be after it, on average
 */
public record NailTest(double hours, double sdLnAfter) {
  /** The best one for a belief. */
  public static NailTest of(DemoldBelief belief) {
    double hours = belief.medianHours();
    DemoldBelief after = belief.observing(new HardnessSeen.Judged(hours, true, Outcome.NAIL_SD_LN));
    return new NailTest(hours, after.sdLn());
  }
}
