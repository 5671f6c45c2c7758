package org.layroom.dashboard.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.function.IntToDoubleFunction;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.recording.UnusableRecording;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.CleanAirReading;

/**
 * An evening as a shop would have recorded it: 870 ticks for each doubling of the level (SGP40 data
 * sheet), the levels those of predictor/ALARM.md.
 */
class RecordedAirTest {
  private static final Instant START = Instant.parse("2026-03-02T18:00:00Z");
  private static final Optional<CleanAirReading> CLEAN =
      Optional.of(CleanAirReading.of(30_000, START.minus(Duration.ofDays(1))));

  @TempDir Path folder = Path.of("");

  /** Two hours, each ten seconds; below zero is an empty cell, beyond a million a row left out. */
  private Path recorded(IntToDoubleFunction levelAtMinute) throws IOException {
    StringBuilder csv = new StringBuilder("time,temperature_degC,humidity_pctRH,voc_raw\n");
    for (int second = 0; second < 7200; second += 10) {
      double level = levelAtMinute.applyAsDouble(second / 60);
      if (level > 1e6) {
        continue;
      }
      String raw =
          level < 0
              ? ""
              : Long.toString(
                  Math.round(30_000 - 870 * Math.log(level) / Math.log(2) + second / 10 % 3));
      csv.append(START.plusSeconds(second)).append(",20,50,").append(raw).append('\n');
    }
    return Files.writeString(folder.resolve("evening.csv"), csv);
  }

  private static List<String> states(List<RecordedAir.Alarm> alarms) {
    return alarms.stream()
        .map(one -> one.call().name().toLowerCase(java.util.Locale.ROOT))
        .collect(Collectors.toList());
  }

  private List<RecordedAir.Alarm> of(Path file, RecordedAir.RecordedJob... jobs)
      throws UnusableRecording {
    return RecordedAir.of(file, ZoneOffset.UTC, CLEAN, List.of(jobs));
  }

  @Test
  void anEveningTellsVentilateThenLeaveWithTimesAndReasons() throws Exception {
    List<RecordedAir.Alarm> alarms = of(recorded(minute -> minute < 60 ? 1 : 20));
    assertEquals(List.of("unknown", "ventilate", "leave"), states(alarms));
    RecordedAir.Alarm leave = alarms.get(2);
    Duration after = Duration.between(START.plusSeconds(3600), leave.from());
    assertTrue(after.compareTo(Duration.ofMinutes(2)) <= 0, after.toString());
    assertEquals(Optional.empty(), leave.until(), "nobody acknowledged it");
    assertTrue(String.join(" ", leave.why()).contains("times clean air"));
    assertEquals(leave.from(), alarms.get(1).until().orElseThrow());
  }

  @Test
  void aGapAndBadReadsStayWhatTheyAre() throws Exception {
    List<RecordedAir.Alarm> gap = of(recorded(minute -> minute >= 60 && minute < 80 ? 2e6 : 1));
    assertEquals(List.of("unknown", "unknown"), states(gap));
    assertTrue(String.join(" ", gap.get(1).why()).contains("No reading"), gap.toString());
    List<RecordedAir.Alarm> bad = of(recorded(minute -> minute >= 60 && minute < 80 ? -1 : 1));
    assertEquals(List.of("unknown", "unknown"), states(bad));
    assertEquals(
        List.of("unknown"), states(of(recorded(minute -> 1))), "only the first quarter of an hour");
  }

  @Test
  void aJobIsQuieterOnlyOnceItsChipWasSeenAndWithoutCleanAirAllIsUnknown() throws Exception {
    Path file = recorded(minute -> minute < 60 ? 1 : 3.2);
    RecordedAir.RecordedJob job =
        new RecordedAir.RecordedJob(START.plusSeconds(3000), START.plusSeconds(7000));
    assertEquals(List.of("unknown", "ventilate"), states(of(file, job)));
    List<RecordedAir.Alarm> blind =
        RecordedAir.of(file, ZoneOffset.UTC, Optional.empty(), List.of());
    assertEquals(List.of(AirCall.UNKNOWN), blind.stream().map(RecordedAir.Alarm::call).toList());
  }

  @Test
  void aRecordingWithoutVaporTellsNothing() throws Exception {
    Path file =
        Files.writeString(
            folder.resolve("air.csv"),
            "time,temperature_degC,humidity_pctRH\n" + START + ",20,50\n");
    assertFalse(RecordedAir.measured(file, ZoneOffset.UTC));
    assertTrue(RecordedAir.measured(recorded(minute -> 1), ZoneOffset.UTC));
  }
}
