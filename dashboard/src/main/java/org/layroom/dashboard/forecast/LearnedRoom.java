package org.layroom.dashboard.forecast;

import java.time.Duration;
import java.time.Instant;
import java.util.Iterator;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.History;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.predictor.room.OutdoorSeries;
import org.layroom.predictor.room.RoomAnswer;
import org.layroom.predictor.room.RoomForecaster;
import org.layroom.predictor.room.RoomReading;
import org.layroom.predictor.room.RoomResponse;

/**
 * One room, learned slot by slot from the store. Learned anew from ten weeks of history when what
 * was learned from no longer holds: older readings came in late, another device speaks, the clock
 * went back.
 */
final class LearnedRoom {
  private static final Duration LEARNED_FROM = Duration.ofDays(70);

  /**
   * What is known after a slot.
   *
   * @param at end of the slot
   * @param answer the room from then on
   * @param response how it has answered to heating and airing
   */
  record Known(Instant at, RoomAnswer answer, RoomResponse response) {}

  private final History history;
  private final OutdoorFile outdoorFile;
  private RoomForecaster forecaster = new RoomForecaster();
  private Map<String, DeviceName> sources = Map.of();
  private Instant fedUntil = Instant.MIN;
  private int fileVersion = -1;

  LearnedRoom(History history, OutdoorFile outdoorFile) {
    this.history = history;
    this.outdoorFile = outdoorFile;
  }

  /**
   * Takes in what has been stored up to the last whole slot, and forecasts from there.
   *
   * @param anew whether older readings have come in
   */
  Known learn(RoomSnapshot room, boolean anew) {
    Instant end = StoredSlots.endBefore(room.at());
    boolean from = anew || end.isBefore(fedUntil) || outdoorFile.version() != fileVersion;
    if (!from && fedUntil.isBefore(end)) {
      Instant oldest = end.minus(LEARNED_FROM);
      StoredSlots newer =
          StoredSlots.read(history, room, fedUntil.isBefore(oldest) ? oldest : fedUntil, end);
      if (newer.sources().equals(sources)) {
        feed(newer);
      } else {
        from = true;
      }
    }
    if (from) {
      relearn(room, end);
    }
    fedUntil = end;
    return new Known(end, forecaster.forecast(end, RoomForecaster.LONGEST), forecaster.response());
  }

  private void relearn(RoomSnapshot room, Instant end) {
    StoredSlots all = StoredSlots.read(history, room, end.minus(LEARNED_FROM), end);
    fileVersion = outdoorFile.version();
    sources = all.sources();
    forecaster = new RoomForecaster(foretold(all.outdoor(), end));
    feed(all);
  }

  private Optional<OutdoorSeries> foretold(Map<Instant, Double> measured, Instant end) {
    Map<Instant, Double> values = new TreeMap<>();
    outdoorFile
        .values()
        .forEach(
            (time, value) -> {
              if (time.isAfter(end.minus(LEARNED_FROM))
                  && time.isBefore(end.plus(RoomForecaster.LONGEST.multipliedBy(2)))) {
                values.put(time, value);
              }
            });
    if (values.isEmpty()) {
      return Optional.empty();
    }
    values.putAll(measured);
    return Optional.of(OutdoorSeries.of(values));
  }

  private void feed(StoredSlots slots) {
    Iterator<Map.Entry<Instant, Double>> outside = slots.outdoor().entrySet().iterator();
    Optional<Map.Entry<Instant, Double>> next = next(outside);
    for (RoomReading reading : slots.readings()) {
      while (next.isPresent() && !next.get().getKey().isAfter(reading.time())) {
        forecaster.addOutdoor(next.get().getKey(), next.get().getValue());
        next = next(outside);
      }
      forecaster.add(reading);
    }
  }

  private static Optional<Map.Entry<Instant, Double>> next(
      Iterator<Map.Entry<Instant, Double>> iterator) {
    return iterator.hasNext() ? Optional.of(iterator.next()) : Optional.empty();
  }
}
