package org.layroom.predictor.verdict;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.layroom.predictor.limits.ShopLimits;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;

/**
 * Warm, dry and aired enough to mix? Every rule gives a reason that names the value, the limit and
 * what to do; the worst reason is the verdict. No outranks wait, wait outranks unknown, unknown
 * outranks ready to mix; a warning changes nothing but is told.
 */
public final class MixCheck {
  private MixCheck() {}

  /**
   * The mix check.
   *
   * @param material the can about to be opened; without one the limits for every material count
   * @param conditions what is known about the room
   */
  public static Verdict check(Optional<Material> material, Conditions conditions) {
    List<Reason> warm = WarmCheck.reasons(material, conditions);
    DryCheck dry = DryCheck.of(conditions);
    Reason air = AirCheck.reason(conditions.air());
    List<Reason> reasons = new ArrayList<>(warm);
    reasons.addAll(dry.reasons());
    reasons.add(air);
    reasons.addAll(materialReasons(material));
    reasons.sort(Comparator.comparing(Reason::state).reversed());
    State verdict = State.MIX;
    for (Reason reason : reasons) {
      verdict = verdict.worse(reason.state().state());
    }
    return new Verdict(
        verdict,
        dry.dewPointC(),
        dry.marginK(),
        sentence(warm),
        sentence(dry.reasons()),
        new Sentence(air.about(), air.state(), air.words()),
        reasons,
        validFor(conditions));
  }

  private static List<Reason> materialReasons(Optional<Material> material) {
    if (material.isEmpty()) {
      return List.of(
          new Reason(
              "material",
              Finding.WARN,
              "No material chosen, so general limits were used. Choose the material to use its"
                  + " own limits."));
    }
    Material can = material.get();
    if (can.waxed()) {
      String use =
          can.kind() == MaterialKind.FINISH_COAT
              ? "Use it as the last coat only."
              : "Never in the mold or between layers.";
      return List.of(
          new Reason(
              "material", Finding.WARN, "Waxed: nothing bonds to " + can.name() + ". " + use));
    }
    return List.of();
  }

  /** The worst reason speaks for its subject; the first among equals. */
  private static Sentence sentence(List<Reason> reasons) {
    Reason worst = reasons.get(0);
    for (Reason reason : reasons) {
      if (reason.state().compareTo(worst.state()) > 0) {
        worst = reason;
      }
    }
    return new Sentence(worst.about(), worst.state(), worst.words());
  }

  private static Optional<Duration> validFor(Conditions conditions) {
    return Stream.of(
            conditions.airC(), conditions.humidityPct(), conditions.moldC(), conditions.resinC())
        .flatMap(Optional::stream)
        .filter(condition -> !condition.stale())
        .flatMap(condition -> condition.age().stream())
        .map(ShopLimits.OLDEST_READING::minus)
        .min(Comparator.naturalOrder());
  }
}
