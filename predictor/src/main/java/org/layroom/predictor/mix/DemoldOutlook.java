package org.layroom.predictor.mix;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.layroom.predictor.cure.ClockInputs;
import org.layroom.predictor.cure.HardeningClock;
import org.layroom.predictor.hardening.DemoldBelief;
import org.layroom.predictor.hardening.NailTest;
import org.layroom.predictor.hardening.Outcome;
import org.layroom.predictor.limits.Words;

/**
 * When the part may leave the mold, counted at 20 degC, and how that is known.
 *
 * @param belief the hours at 20 degC
 * @param restsOn what it rests on, in words
 * @param outcomes how many outcomes of this shop it rests on
 * @param nailTest the fingernail test that would teach most
 * @param words what to do next: the test to make, what warming buys a part found soft
 */
public record DemoldOutlook(
    DemoldBelief belief, String restsOn, int outcomes, NailTest nailTest, List<String> words) {
  private static final double WARM_C = 30;

  public DemoldOutlook {
    words = List.copyOf(words);
  }

  static DemoldOutlook of(ClockInputs inputs, PartHistory history) {
    DemoldBelief belief = inputs.demold();
    NailTest nail = NailTest.of(belief);
    List<String> words = new ArrayList<>();
    softest(history).ifPresent(soft -> words.add(warming(belief, soft)));
    words.add(
        "The test that would teach most: a fingernail on the flange "
            + hours(nail.hours())
            + " after mixing, counted at 20 °C. Note soft or hard.");
    return new DemoldOutlook(
        belief,
        inputs.hardening().restsOn(),
        inputs.hardening().learned().ofThisCan() + inputs.hardening().learned().ofOtherCans(),
        nail,
        words);
  }

  /** The oldest look at a part, where that was soft. */
  private static Optional<Outcome> softest(PartHistory history) {
    return history.alike().stream()
        .max(Comparator.comparingDouble(outcome -> outcome.age().hours()))
        .filter(Outcome::soft);
  }

  private static String warming(DemoldBelief belief, Outcome soft) {
    double more = Math.max(0, belief.medianHours() - soft.age().hours());
    return "Soft at "
        + hours(soft.age().hours())
        + ": likely hard after another "
        + hours(more)
        + " at 20 °C, or "
        + hours(more * HardeningClock.slower(WARM_C))
        + " at "
        + Words.celsiusLimit(WARM_C)
        + ".";
  }

  private static String hours(double hours) {
    return Words.number(hours, hours < 10 ? 1 : 0) + " h";
  }
}
