package org.layroom.predictor.room.plan;

import java.time.Duration;
import org.layroom.predictor.cure.MaterialPosterior;
import org.layroom.predictor.hardening.Hardening;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;
import org.layroom.predictor.material.TemperatureRange;

/**
 * One mix of a chain, such as a gel coat or a laminate.
 *
 * @param name for people
 * @param kind what it is used for
 * @param belief what is believed about the can
 * @param doseByWeightPct catalyst, % by weight
 * @param limits temperatures inside which it may be mixed and must gel, degC
 * @param handsOn how long someone works on it, from mixing
 * @param hardening what decides when the part may leave the mold
 */
public record PlanStep(
    String name,
    MaterialKind kind,
    MaterialPosterior belief,
    double doseByWeightPct,
    TemperatureRange limits,
    Duration handsOn,
    Hardening hardening) {

  /** A step with a material's own limits. */
  public static PlanStep of(
      Material material, MaterialPosterior belief, double doseByWeightPct, Duration handsOn) {
    return new PlanStep(
        material.name(),
        material.kind(),
        belief,
        doseByWeightPct,
        material.temperatureCOrTypical(),
        handsOn,
        material.hardening());
  }

  /** With what is known of its hardening. */
  public PlanStep hardening(Hardening value) {
    return new PlanStep(name, kind, belief, doseByWeightPct, limits, handsOn, value);
  }
}
