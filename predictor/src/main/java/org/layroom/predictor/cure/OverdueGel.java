package org.layroom.predictor.cure;

import java.util.Optional;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.MaterialKind;

/** What to do when a layer has not set by its latest time (common practice, no source). */
public final class OverdueGel {
  private static final double A_DAY = 24 * 60;

  private OverdueGel() {}

  /**
   * Advice for a layer that a person says is still wet; empty while it is not late.
   *
   * @param gel the gel stage that is waited for
   * @param elapsedMinutes since mixing, zero or more
   */
  public static Optional<Warning> advice(MaterialKind kind, StageTime gel, double elapsedMinutes) {
    double latest = gel.fromMinutes().p90();
    if (elapsedMinutes <= latest) {
      return Optional.empty();
    }
    boolean coat = kind != MaterialKind.LAMINATING_RESIN;
    String layer = coat ? "gel coat" : "resin";
    String reason =
        elapsedMinutes > latest + A_DAY
            ? "Still not set a day after its latest time. Strip it, and test the catalyst"
                + " before the next cup."
            : "Past its latest time of "
                + Words.minutes(latest)
                + " and not set. Warm it to 20 to 25 °C and wait. Never laminate over soft "
                + layer
                + ". If it has not set a day later, strip it.";
    return Optional.of(
        new Warning("gel", Words.minutes(elapsedMinutes), Words.minutes(latest), reason));
  }
}
