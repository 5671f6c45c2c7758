package org.layroom.predictor.mix;

import java.util.ArrayList;
import java.util.List;
import org.layroom.predictor.hardening.Learned;
import org.layroom.predictor.hardening.Outcome;
import org.layroom.predictor.hardening.PartOutcome;
import org.layroom.predictor.hardening.PriorHours;
import org.layroom.predictor.hardening.ShopOutcomes;

/**
 * What became of earlier parts.
 *
 * @param recorded outcomes of this shop's parts, of any can
 * @param alike outcomes of parts of this can laid up as the one in question: same dose, same
 *     thickness
 */
public record PartHistory(List<PartOutcome> recorded, List<Outcome> alike) {
  public PartHistory {
    recorded = List.copyOf(recorded);
    alike = List.copyOf(alike);
  }

  /** Nothing is known of earlier parts. */
  public static PartHistory none() {
    return new PartHistory(List.of(), List.of());
  }

  /**
   * What it teaches of a can.
   *
   * @param can the can in question
   * @param expected what was believed of the part in question before anything was learned
   */
  Learned learned(String can, PriorHours expected) {
    List<PartOutcome> all = new ArrayList<>(recorded);
    alike.forEach(outcome -> all.add(new PartOutcome(can, expected, outcome)));
    return ShopOutcomes.of(all).of(can);
  }
}
