package org.layroom.predictor.verdict;

import static org.layroom.predictor.limits.Words.celsius;
import static org.layroom.predictor.limits.Words.celsiusDifference;
import static org.layroom.predictor.limits.Words.number;
import static org.layroom.predictor.limits.Words.plain;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.air.MoistAir;
import org.layroom.predictor.limits.ShopLimits;

/**
 * The rules on moisture. The 3 °C above the dew point come from steel coating (ISO 8502-4, ISO
 * 12944-7) and are applied here by analogy.
 *
 * @param dewPointC of the air, degC, where it can be known
 * @param marginK surface minus dew point, K
 * @param reasons at least one
 */
record DryCheck(OptionalDouble dewPointC, OptionalDouble marginK, List<Reason> reasons) {
  private static final String ABOUT = "dry";
  private static final String BY_ANALOGY = " (a steel-coating rule, used by analogy)";

  static DryCheck of(Conditions conditions) {
    Optional<Condition> air = fresh(conditions.airC());
    Optional<Condition> humidity = fresh(conditions.humidityPct());
    Optional<Condition> mold = fresh(conditions.moldC());
    OptionalDouble dewPointC = dewPoint(air, humidity);
    String surface = mold.isPresent() ? "mold" : "air";
    OptionalDouble marginK = margin(mold.isPresent() ? mold : air, dewPointC);
    List<Reason> reasons = new ArrayList<>();
    if (conditions.moldWet()) {
      reasons.add(
          new Reason(ABOUT, Finding.NO, "Wet: water on the mold. Dry it and warm the room first."));
    }
    humidity.flatMap(rh -> tooDamp(rh.value())).ifPresent(reasons::add);
    if (marginK.isPresent()) {
      nearDewPoint(surface, marginK.getAsDouble(), dewPointC.getAsDouble()).ifPresent(reasons::add);
    } else {
      reasons.add(unknown(conditions));
    }
    if (reasons.isEmpty()) {
      reasons.add(
          new Reason(
              ABOUT,
              Finding.OK,
              "Dry enough: humidity %s %%, %s %s above the dew point."
                  .formatted(
                      number(humidity.orElseThrow().value(), 0),
                      surface,
                      celsiusDifference(marginK.getAsDouble()))));
    }
    return new DryCheck(dewPointC, marginK, reasons);
  }

  private static Optional<Condition> fresh(Optional<Condition> condition) {
    return condition.filter(value -> !value.stale());
  }

  private static OptionalDouble dewPoint(Optional<Condition> air, Optional<Condition> humidity) {
    if (air.isEmpty() || humidity.isEmpty() || humidity.get().value() <= 0) {
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(MoistAir.dewPointC(air.get().value(), humidity.get().value()));
  }

  private static OptionalDouble margin(Optional<Condition> surface, OptionalDouble dewPointC) {
    if (surface.isEmpty() || dewPointC.isEmpty()) {
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(surface.get().value() - dewPointC.getAsDouble());
  }

  private static String oneDecimal(double humidityPct) {
    return plain(Math.rint(humidityPct * 10) / 10);
  }

  private static Optional<Reason> tooDamp(double humidityPct) {
    if (humidityPct > ShopLimits.WET_HUMIDITY_PCT) {
      return Optional.of(
          new Reason(
              ABOUT,
              Finding.NO,
              "Too damp: humidity %s %%, limit %s %%. Warm and dry the room before you mix."
                  .formatted(oneDecimal(humidityPct), plain(ShopLimits.WET_HUMIDITY_PCT))));
    }
    if (humidityPct > ShopLimits.DAMP_HUMIDITY_PCT) {
      return Optional.of(
          new Reason(
              ABOUT,
              Finding.WAIT,
              "Damp: humidity %s %%, limit %s %%. Warm or dry the room, then check again."
                  .formatted(oneDecimal(humidityPct), plain(ShopLimits.DAMP_HUMIDITY_PCT))));
    }
    return Optional.empty();
  }

  private static Optional<Reason> nearDewPoint(String surface, double marginK, double dewPointC) {
    if (marginK <= ShopLimits.WET_MARGIN_K) {
      return Optional.of(
          new Reason(
              ABOUT,
              Finding.NO,
              "Wet: %s %s above the dew point (%s); it counts as wet up to %s °C above. Warm the mold or dry the air."
                  .formatted(
                      surface,
                      celsiusDifference(marginK),
                      celsius(dewPointC),
                      plain(ShopLimits.WET_MARGIN_K))));
    }
    if (marginK < ShopLimits.DRY_MARGIN_K) {
      return Optional.of(
          new Reason(
              ABOUT,
              Finding.WAIT,
              "Nearly wet: %s only %s above the dew point (%s); the minimum is %s °C above%s. Warm the mold or dry the air."
                  .formatted(
                      surface,
                      celsiusDifference(marginK),
                      celsius(dewPointC),
                      plain(ShopLimits.DRY_MARGIN_K),
                      BY_ANALOGY)));
    }
    return Optional.empty();
  }

  private static Reason unknown(Conditions conditions) {
    String missing =
        conditions.humidityPct().isEmpty()
            ? "no humidity"
            : conditions.humidityPct().get().stale()
                ? "the humidity reading is over 30 min old"
                : conditions.airC().isEmpty()
                    ? "no air temperature"
                    : conditions.airC().get().stale()
                        ? "the air reading is over 30 min old"
                        : "humidity reads 0 %";
    return new Reason(
        ABOUT, Finding.UNKNOWN, "Dryness unknown: " + missing + ". Measure it and enter it.");
  }
}
