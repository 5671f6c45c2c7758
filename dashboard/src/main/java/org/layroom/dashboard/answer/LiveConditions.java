package org.layroom.dashboard.answer;

import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.ConcurrentHashMap;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.LiveValue;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.Bucket;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.mix.AgedTemperature;
import org.layroom.predictor.mix.MixTemperatures;
import org.layroom.predictor.verdict.AirState;
import org.layroom.predictor.verdict.Condition;
import org.layroom.predictor.verdict.Conditions;

/** What the mix check needs to know, taken from a room's live picture and its last hour. */
public final class LiveConditions {
  private static final Duration DRIFT_SPAN = Duration.ofMinutes(60);
  private static final int DRIFT_BUCKETS = 6;
  private static final Duration DRIFT_KEPT = Duration.ofSeconds(60);

  /** No room's air, degC. */
  private static final double HOTTEST_AIR = 60;

  /** A heated mold, and humidity in % too. */
  private static final double HOTTEST = 125;

  private record Drift(Instant at, OptionalDouble kelvinPerHour) {}

  private final DashboardCore core;
  private final Map<RoomName, Drift> drifts = new ConcurrentHashMap<>();

  LiveConditions(DashboardCore core) {
    this.core = core;
  }

  Conditions of(RoomSnapshot room, AirState air) {
    Conditions conditions = Conditions.nothingKnown().withAir(air);
    Optional<Condition> airC =
        condition(room.value(Series.TEMPERATURE)).filter(one -> one.value() <= HOTTEST_AIR);
    Optional<Condition> humidity = condition(room.value(Series.HUMIDITY));
    Optional<LiveValue> mold = mold(room);
    Optional<Condition> moldC = condition(mold);
    Optional<Condition> resinC = condition(room.value(Series.RESIN_TEMPERATURE));
    if (airC.isPresent()) {
      conditions = conditions.withAirC(airC.get());
    }
    if (humidity.isPresent()) {
      conditions = conditions.withHumidityPct(humidity.get());
    }
    if (moldC.isPresent()) {
      conditions = conditions.withMoldC(moldC.get());
      OptionalDouble drift = drift(room, mold.orElseThrow().reading().name());
      if (drift.isPresent()) {
        conditions = conditions.withMoldDriftKPerH(drift.getAsDouble());
      }
    }
    if (resinC.isPresent()) {
      conditions = conditions.withResinC(resinC.get());
    }
    return conditions;
  }

  /** What the dose goes by: mold and resin as measured, and how fast the mold drifts. */
  MixTemperatures temperatures(RoomSnapshot room) {
    MixTemperatures temperatures = MixTemperatures.unknown();
    Optional<LiveValue> mold = mold(room);
    Optional<AgedTemperature> moldReading = mold.flatMap(LiveConditions::reading);
    if (moldReading.isPresent()) {
      temperatures = temperatures.withMold(moldReading.get());
      OptionalDouble drift = drift(room, mold.orElseThrow().reading().name());
      if (drift.isPresent()) {
        temperatures = temperatures.withMoldDriftKPerH(drift.getAsDouble());
      }
    }
    return room.value(Series.RESIN_TEMPERATURE)
        .flatMap(LiveConditions::reading)
        .map(temperatures::withResin)
        .orElse(temperatures);
  }

  /** What the prediction of a layup's air may take from the room's sensors. */
  FumesFields.Known known(RoomSnapshot room, FumesFields.Known before) {
    return new FumesFields.Known(
        before.material(),
        before.volumeM3(),
        before.airChanges(),
        before.mixing(),
        fresh(room.value(Series.TEMPERATURE)),
        fresh(mold(room)),
        before.limit(),
        before.taught());
  }

  /** The temperature of the air, degC, where it is measured now. */
  OptionalDouble airC(RoomSnapshot room) {
    return fresh(room.value(Series.TEMPERATURE));
  }

  private static OptionalDouble fresh(Optional<LiveValue> value) {
    return condition(value)
        .filter(condition -> !condition.stale())
        .map(condition -> OptionalDouble.of(condition.value()))
        .orElse(OptionalDouble.empty());
  }

  private static Optional<AgedTemperature> reading(LiveValue value) {
    return condition(Optional.of(value))
        .filter(condition -> condition.value() <= 60)
        .map(condition -> AgedTemperature.measured(condition.value(), value.age()));
  }

  /** The mold that counts: of several, the coldest. */
  public static Optional<LiveValue> mold(RoomSnapshot room) {
    List<LiveValue> molds =
        room.values().values().stream()
            .filter(
                value ->
                    value.reading().name().equals(Series.MOLD_TEMPERATURE)
                        || value.reading().name().startsWith(Series.MOLD_TEMPERATURE + "/"))
            .filter(value -> condition(Optional.of(value)).isPresent())
            .toList();
    return molds.stream()
        .min(Comparator.comparingDouble(value -> value.reading().value().orElse(0)));
  }

  private static Optional<Condition> condition(Optional<LiveValue> value) {
    return value
        .filter(live -> live.reading().quality().isGood())
        .filter(live -> live.reading().value().isPresent())
        .map(live -> Condition.measured(live.reading().value().getAsDouble(), live.age()))
        .filter(condition -> condition.value() >= -40 && condition.value() <= HOTTEST);
  }

  private OptionalDouble drift(RoomSnapshot room, String series) {
    Drift known = drifts.get(room.room());
    if (known != null
        && !room.at().isBefore(known.at())
        && room.at().isBefore(known.at().plus(DRIFT_KEPT))) {
      return known.kelvinPerHour();
    }
    List<Bucket> buckets =
        core.store()
            .history()
            .between(room.room(), series, room.at().minus(DRIFT_SPAN), room.at(), DRIFT_BUCKETS)
            .buckets();
    OptionalDouble drift = slope(buckets);
    drifts.put(room.room(), new Drift(room.at(), drift));
    return drift;
  }

  /** Change from the first to the last stretch, K per hour; empty with under half of the hour. */
  private static OptionalDouble slope(List<Bucket> buckets) {
    if (buckets.size() < 2) {
      return OptionalDouble.empty();
    }
    Bucket first = buckets.get(0);
    Bucket last = buckets.get(buckets.size() - 1);
    Duration between = Duration.between(first.from(), last.from());
    if (between.compareTo(DRIFT_SPAN.dividedBy(2)) < 0) {
      return OptionalDouble.empty();
    }
    double hours = between.toMillis() / 3_600_000.0;
    return OptionalDouble.of((last.mean() - first.mean()) / hours);
  }
}
