package org.layroom.dashboard.alarms;

import java.time.Duration;
import java.util.OptionalLong;

/**
 * What became of one shop on one floor.
 *
 * @param canTell a sensor is there with which no leave may be missed
 * @param dangers stretches of at least three minutes at which somebody must leave
 * @param missed those of which nobody was told within three minutes
 * @param unknown those at which the air was told to be unknown instead
 * @param leaveDelaySeconds the largest delay of leave after the true minute's mean; negative before
 *     it
 * @param airingDue the true mean of a quarter of an hour came to the eight-hour limit
 * @param airingDelaySeconds of ventilate (or leave) after that
 * @param leaves how often leave was raised
 * @param falseLeaves those without reason in the true air
 * @param unannounced those that nothing came before
 * @param unknownPct share of the time at which the air was unknown, %
 */
record Finding(
    String scenario,
    String sensitivity,
    String floor,
    boolean canTell,
    int dangers,
    int missed,
    int unknown,
    OptionalLong leaveDelaySeconds,
    boolean airingDue,
    OptionalLong airingDelaySeconds,
    int leaves,
    int falseLeaves,
    int unannounced,
    double unknownPct,
    Duration length) {
  /** False leaves in thirty days; a shop of less than thirty days counts as a month of its own. */
  double falsePerMonth() {
    return falseLeaves / Math.max(1, length.toHours() / 720.0);
  }

  /** The goals that this falls short of, in words; empty when it meets them. */
  String fallsShort() {
    StringBuilder words = new StringBuilder();
    if (canTell && missed > 0) {
      words.append("leave missed ");
    }
    if (falsePerMonth() > 1) {
      words.append("false leaves ");
    }
    return words.toString().strip();
  }
}
