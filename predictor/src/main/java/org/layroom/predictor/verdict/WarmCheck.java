package org.layroom.predictor.verdict;

import static org.layroom.predictor.limits.Words.celsius;
import static org.layroom.predictor.limits.Words.celsiusLimit;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.layroom.predictor.limits.ShopLimits;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;
import org.layroom.predictor.material.TemperatureRange;

/** The rules on the temperature of the mold and of what is in the can. */
final class WarmCheck {
  private static final String ABOUT = "warm";

  private WarmCheck() {}

  /** At least one reason, the mold's first. */
  static List<Reason> reasons(Optional<Material> material, Conditions conditions) {
    List<Reason> reasons = new ArrayList<>();
    reasons.add(mold(material, conditions));
    conditions.resinC().flatMap(resin -> resin(material, resin)).ifPresent(reasons::add);
    conditions.moldDriftKPerH().ifPresent(drift -> drift(drift).ifPresent(reasons::add));
    return reasons;
  }

  private static Reason mold(Optional<Material> material, Conditions conditions) {
    if (conditions.moldC().isEmpty()) {
      return new Reason(
          ABOUT,
          Finding.UNKNOWN,
          "Warmth unknown: no mold temperature. Measure the mold surface and enter it.");
    }
    Condition mold = conditions.moldC().get();
    if (mold.stale()) {
      return new Reason(
          ABOUT,
          Finding.UNKNOWN,
          "Warmth unknown: the mold reading is %s old; the limit is 30 min. Measure the mold surface and enter it."
              .formatted(age(mold)));
    }
    return temperature("mold", mold.value(), material);
  }

  private static Optional<Reason> resin(Optional<Material> material, Condition resin) {
    if (resin.stale()) {
      return Optional.of(
          new Reason(
              ABOUT,
              Finding.UNKNOWN,
              "Resin temperature unknown: the reading is %s old; the limit is 30 min. Measure it and enter it."
                  .formatted(age(resin))));
    }
    return Optional.of(temperature("resin", resin.value(), material));
  }

  private static Reason temperature(String what, double valueC, Optional<Material> material) {
    TemperatureRange can =
        material
            .map(Material::temperatureCOrTypical)
            .orElse(new TemperatureRange(ShopLimits.COLDEST_C, ShopLimits.HOTTEST_C));
    double coldest =
        valueC < ShopLimits.COLDEST_C
            ? ShopLimits.COLDEST_C
            : Math.max(ShopLimits.COLDEST_DOSE_C, can.min());
    double hottest = Math.min(ShopLimits.HOTTEST_C, can.max());
    if (valueC < coldest) {
      return reason(
          Finding.NO,
          "Too cold: %s %s, limit %s. Warm it before you mix.",
          what,
          celsius(valueC),
          celsiusLimit(coldest));
    }
    if (valueC > hottest) {
      return reason(
          Finding.NO,
          "Too hot: %s %s, limit %s. Cool it before you mix.",
          what,
          celsius(valueC),
          celsiusLimit(hottest));
    }
    return warnings(what, valueC, material);
  }

  private static Reason warnings(String what, double valueC, Optional<Material> material) {
    boolean gelCoat = material.map(can -> can.kind() == MaterialKind.GEL_COAT).orElse(false);
    if (valueC >= ShopLimits.STYRENE_FLASH_POINT_C) {
      return reason(
          Finding.WARN,
          "Hot: %s %s; from %s a spark can ignite the vapor. No flames or sparks. Mix small cups.",
          what,
          celsius(valueC),
          celsiusLimit(ShopLimits.STYRENE_FLASH_POINT_C));
    }
    if (gelCoat && valueC > ShopLimits.WARM_GEL_COAT_C) {
      return reason(
          Finding.WARN,
          "Warm for gel coat: %s %s, limit %s. Mix small cups.",
          what,
          celsius(valueC),
          celsiusLimit(ShopLimits.WARM_GEL_COAT_C));
    }
    if (valueC < ShopLimits.COOL_C) {
      return reason(
          Finding.WARN,
          "Cool but workable: %s %s; better at %s or more. It hardens slowly; warm it if you can.",
          what,
          celsius(valueC),
          celsiusLimit(ShopLimits.COOL_C));
    }
    return reason(Finding.OK, "Warm enough: %s %s.", what, celsius(valueC));
  }

  private static Optional<Reason> drift(double driftKPerH) {
    if (Math.abs(driftKPerH) <= ShopLimits.FASTEST_DRIFT_K_PER_H) {
      return Optional.empty();
    }
    return Optional.of(
        reason(
            Finding.WARN,
            "Temperature drifting: mold %s °C per hour, limit %s °C per hour. Times are less certain.",
            Words.number(driftKPerH, 1),
            Words.plain(ShopLimits.FASTEST_DRIFT_K_PER_H)));
  }

  private static Reason reason(Finding state, String words, Object... values) {
    return new Reason(ABOUT, state, String.format(Locale.ROOT, words, values));
  }

  private static String age(Condition condition) {
    return condition.age().orElseThrow().toMinutes() + " min";
  }
}
