package org.layroom.predictor.verdict;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The answer of the mix check.
 *
 * @param verdict the worst of the reasons, a warning aside
 * @param dewPointC dew point of the air, degC; empty when temperature or humidity is missing
 * @param dewPointMarginK surface minus dew point, K: the mold's surface or, lacking it, the air's
 * @param warm the line on temperature
 * @param dry the line on moisture
 * @param air the line on vapor
 * @param reasons every reason, the worst first
 * @param validFor how long the readings that it rests on stay fresh enough; empty when nothing
 *     measured is used
 */
public record Verdict(
    State verdict,
    OptionalDouble dewPointC,
    OptionalDouble dewPointMarginK,
    Sentence warm,
    Sentence dry,
    Sentence air,
    List<Reason> reasons,
    Optional<Duration> validFor) {
  public Verdict {
    reasons = List.copyOf(reasons);
  }

  /** The three lines in the order of the page: warm, dry, air. */
  public List<Sentence> sentences() {
    return List.of(warm, dry, air);
  }
}
