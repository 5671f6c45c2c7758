package org.layroom.dashboard.recording;

import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.room.RoomReading;

/**
 * A recorded room, or the weather outside it, from a CSV file up to a time: rows after it are not
 * looked at.
 */
public final class RoomRecording {
  private static final int TOLD = 5;

  private final String option;
  private final Path file;
  private final ZoneId zone;
  private final List<Warning> warnings = new ArrayList<>();
  private int bad;

  /**
   * A file.
   *
   * @param option the option or setting that named it, for messages
   * @param zone of times without an offset
   */
  public RoomRecording(String option, Path file, ZoneId zone) {
    this.option = option;
    this.file = file;
    this.zone = zone;
  }

  /**
   * The room's readings up to a time. A cell that is empty was not measured.
   *
   * @throws UnusableRecording when the file cannot be read or lacks the temperature
   */
  public List<RoomReading> readings(Instant end) throws UnusableRecording {
    List<RoomReading> readings = new ArrayList<>();
    read(
        end,
        Set.of(Recording.HUMIDITY, Recording.MOLD_TEMPERATURE),
        row ->
            readings.add(
                new RoomReading(
                    row.time(),
                    row.value(Recording.TEMPERATURE),
                    row.value(Recording.HUMIDITY),
                    row.value(Recording.MOLD_TEMPERATURE))));
    return readings;
  }

  /**
   * The outdoor temperatures up to a time, degC.
   *
   * @throws UnusableRecording when the file cannot be read or lacks the temperature
   */
  public Map<Instant, Double> temperatures(Instant end) throws UnusableRecording {
    Map<Instant, Double> values = new TreeMap<>();
    read(
        end,
        Set.of(),
        row ->
            row.value(Recording.TEMPERATURE)
                .ifPresent(
                    value -> {
                      requireOutdoor(value);
                      values.put(row.time(), value);
                    }));
    return values;
  }

  private static void requireOutdoor(double value) {
    if (!(value >= -60 && value <= 60)) {
      throw new IllegalArgumentException(
          "outdoor temperature " + value + " °C must be between -60 and 60 degC");
    }
  }

  private interface Taker {
    void take(Row row);
  }

  private void read(Instant end, Set<String> optional, Taker taker) throws UnusableRecording {
    try (Recording recording =
        Recording.openWithGaps(file, zone, Set.of(Recording.TEMPERATURE), optional)) {
      recording.supposed().forEach(note -> warn("columns", note));
      recording.forEachUntil(end, taker::take, this::tell);
    }
    if (bad > TOLD) {
      warn("rows", (bad - TOLD) + " more rows were skipped.");
    }
  }

  private void tell(BadRow row) {
    bad++;
    if (bad <= TOLD) {
      warn("line " + row.line(), "Skipped: " + row + ".");
    }
  }

  private void warn(String field, String words) {
    warnings.add(new Warning(field, "", "", option + ": " + words));
  }

  /** What to know about the file: rows left out, units supposed. */
  public List<Warning> warnings() {
    return List.copyOf(warnings);
  }
}
