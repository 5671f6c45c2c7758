package org.layroom.dashboard.cli;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.layroom.dashboard.recording.BadRow;
import org.layroom.dashboard.recording.Recording;
import org.layroom.dashboard.recording.UnusableRecording;
import org.layroom.predictor.cure.TemperaturePoint;
import org.layroom.predictor.limits.Refusal;

/**
 * A temperature over time from a CSV file, in minutes after its first row.
 *
 * @param bad rows that were left out
 */
record TemperatureFile(List<TemperaturePoint> points, List<BadRow> bad) {
  TemperatureFile {
    points = List.copyOf(points);
    bad = List.copyOf(bad);
  }

  static TemperatureFile read(Path file, ZoneId zone) {
    List<TemperaturePoint> points = new ArrayList<>();
    List<Instant> start = new ArrayList<>();
    List<BadRow> bad = new ArrayList<>();
    try (Recording recording =
        Recording.open(file, zone, Set.of(Recording.TEMPERATURE), Set.of())) {
      recording.forEach(
          row -> {
            double temperature = row.value(Recording.TEMPERATURE).orElseThrow();
            Instant first = start.isEmpty() ? row.time() : start.get(0);
            double minutes = Duration.between(first, row.time()).toMillis() / 60_000.0;
            points.add(new TemperaturePoint(minutes, temperature));
            if (start.isEmpty()) {
              start.add(row.time());
            }
          },
          bad::add);
    } catch (UnusableRecording e) {
      throw new RefusedInput(
          new Refusal("temps", file.toString(), "a recording", String.valueOf(e.getMessage())));
    }
    if (points.isEmpty()) {
      throw new RefusedInput(
          new Refusal("temps", file.toString(), "at least two rows", file + " has no usable row."));
    }
    return new TemperatureFile(points, bad);
  }
}
