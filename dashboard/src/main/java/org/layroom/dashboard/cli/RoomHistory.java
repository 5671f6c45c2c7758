package org.layroom.dashboard.cli;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.layroom.dashboard.recording.IsoTimes;
import org.layroom.dashboard.recording.RoomRecording;
import org.layroom.dashboard.recording.UnusableRecording;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.room.OutdoorSeries;
import org.layroom.predictor.room.RoomForecaster;
import org.layroom.predictor.room.RoomReading;
import picocli.CommandLine.Option;

/** {@code --history}, {@code --outdoor} and {@code --at}: a room learned from a recording. */
final class RoomHistory {
  @Option(
      names = "--history",
      paramLabel = "FILE.csv",
      description =
          "Recording of the room: columns time and temperature_degC; optionally humidity_pctRH"
              + " and mold_temperature_degC.")
  Optional<Path> file = Optional.empty();

  @Option(
      names = "--outdoor",
      paramLabel = "FILE.csv",
      description = "Measured outdoor temperature: columns time and temperature_degC.")
  Optional<Path> outdoor = Optional.empty();

  @Option(
      names = "--outdoor-forecast",
      paramLabel = "FILE.csv",
      description =
          "Outdoor temperature from a weather service, past and forecast. Its rows after --at"
              + " are used; those of the other files are not.")
  Optional<Path> outdoorForecast = Optional.empty();

  @Option(
      names = "--at",
      paramLabel = "TIME",
      description = "Start of the forecast. Later rows are not used.")
  Optional<String> at = Optional.empty();

  @Option(
      names = "--zone",
      paramLabel = "ZONE",
      description = "Time zone of times without an offset, and of the answer (default: UTC).")
  ZoneId zone = ZoneId.of("UTC");

  /** A room that has learned from the recording up to a time. */
  record Learned(RoomForecaster room, Instant at, ZoneId zone, List<Warning> warnings) {}

  Learned learned() {
    if (file.isEmpty()) {
      throw refused("history", "missing", "Enter a recording of the room: --history FILE.csv.");
    }
    Instant end = time();
    List<Warning> warnings = new ArrayList<>();
    List<RoomReading> readings = readings(file.get(), end, warnings);
    Map<Instant, Double> outdoors = outdoor("outdoor", outdoor, end, warnings);
    RoomForecaster room = new RoomForecaster(foretold(outdoors, warnings));
    Iterator<Map.Entry<Instant, Double>> outside = outdoors.entrySet().iterator();
    Optional<Map.Entry<Instant, Double>> next = next(outside);
    for (RoomReading reading : readings) {
      while (next.isPresent() && !next.get().getKey().isAfter(reading.time())) {
        room.addOutdoor(next.get().getKey(), next.get().getValue());
        next = next(outside);
      }
      room.add(reading);
    }
    while (next.isPresent()) {
      room.addOutdoor(next.get().getKey(), next.get().getValue());
      next = next(outside);
    }
    return new Learned(room, end, zone, warnings);
  }

  private static Optional<Map.Entry<Instant, Double>> next(
      Iterator<Map.Entry<Instant, Double>> iterator) {
    return iterator.hasNext() ? Optional.of(iterator.next()) : Optional.empty();
  }

  private Optional<OutdoorSeries> foretold(Map<Instant, Double> measured, List<Warning> warnings) {
    Map<Instant, Double> foretold =
        outdoor("outdoor-forecast", outdoorForecast, Instant.MAX, warnings);
    if (foretold.isEmpty()) {
      return Optional.empty();
    }
    Map<Instant, Double> all = new TreeMap<>(foretold);
    all.putAll(measured);
    try {
      return Optional.of(OutdoorSeries.of(all));
    } catch (IllegalArgumentException e) {
      throw refused("outdoor-forecast", String.valueOf(outdoorForecast), "" + e.getMessage());
    }
  }

  private List<RoomReading> readings(Path path, Instant end, List<Warning> warnings) {
    try {
      RoomRecording history = new RoomRecording("history", path, zone);
      List<RoomReading> readings = history.readings(end);
      warnings.addAll(history.warnings());
      return readings;
    } catch (UnusableRecording e) {
      throw refused("history", path.toString(), String.valueOf(e.getMessage()));
    }
  }

  private Map<Instant, Double> outdoor(
      String option, Optional<Path> path, Instant end, List<Warning> warnings) {
    if (path.isEmpty()) {
      return Map.of();
    }
    try {
      RoomRecording outside = new RoomRecording(option, path.get(), zone);
      Map<Instant, Double> values = outside.temperatures(end);
      warnings.addAll(outside.warnings());
      return values;
    } catch (UnusableRecording e) {
      throw refused(option, path.get().toString(), String.valueOf(e.getMessage()));
    }
  }

  private Instant time() {
    String text =
        at.orElseThrow(
            () ->
                refused(
                    "at",
                    "missing",
                    "Enter the start: --at with a time such as 2026-03-01T18:00."));
    try {
      return IsoTimes.parse(text, zone);
    } catch (IllegalArgumentException e) {
      throw refused("at", text, "--at: " + e.getMessage());
    }
  }

  /** The length asked for, 10 min to 72 h. */
  static Duration length(double hours) {
    if (!(hours >= 1 / 6.0 && hours <= RoomForecaster.LONGEST.toHours())) {
      throw refused(
          "hours", String.valueOf(hours), "--hours must be between 0.17 (ten minutes) and 72.");
    }
    return Duration.ofMinutes(Math.round(hours * 60));
  }

  private static RefusedInput refused(String field, String value, String words) {
    return new RefusedInput(new Refusal(field, value, "", words));
  }
}
