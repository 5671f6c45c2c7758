package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.testing.OfficeRecording;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/** Recordings through the whole path; the expected figures are computed straight from the file. */
class ReplayIT {
  /** SHT4x data sheet section 4.6: 175 degC and 125 %RH over 65535 steps; readings round to one. */
  private static final double TEMPERATURE_STEP = 175.0 / 65_535;

  private static final double HUMIDITY_STEP = 125.0 / 65_535;

  /** DS18B20 data sheet: 12 bits, 1/16 degC. */
  private static final double MOLD_STEP = 1.0 / 16;

  private static JsonNode replay(Path file) throws IOException {
    Typed typed = Typed.run("replay --json " + file);
    assertEquals(0, typed.status(), typed.err());
    return JsonMapper.builder().build().readTree(typed.out());
  }

  @Test
  void sixDaysOfARealOfficeAreStoredEachReadingOnceAndEachDayAsInTheFile() throws Exception {
    Path file = OfficeRecording.required();
    List<String> lines = Files.readAllLines(file);
    JsonNode answer = replay(file);
    assertEquals(lines.size() - 1, answer.path("rows").asInt());
    assertEquals(lines.size() - 1, answer.path("stored").asInt());
    assertEquals(0, answer.path("badRows").asInt());
    assertDays(answer, "temperature", byDay(lines, 1), TEMPERATURE_STEP);
    assertDays(answer, "humidity", byDay(lines, 2), HUMIDITY_STEP);
  }

  private static Map<String, DoubleSummaryStatistics> byDay(List<String> lines, int column) {
    Map<String, DoubleSummaryStatistics> days = new TreeMap<>();
    for (String line : lines.subList(1, lines.size())) {
      String[] cells = line.split(",", -1);
      days.computeIfAbsent(cells[0].substring(0, 10), day -> new DoubleSummaryStatistics())
          .accept(Double.parseDouble(cells[column]));
    }
    return days;
  }

  private static void assertDays(
      JsonNode answer, String series, Map<String, DoubleSummaryStatistics> expected, double step) {
    int found = 0;
    for (JsonNode day : answer.path("days")) {
      if (!day.path("series").asText().equals(series)) {
        continue;
      }
      DoubleSummaryStatistics file =
          Optional.ofNullable(expected.get(day.path("day").asText())).orElseThrow();
      assertEquals(file.getCount(), day.path("n").asLong(), day.toString());
      assertEquals(file.getMin(), day.path("min").asDouble(), step, day.toString());
      assertEquals(file.getAverage(), day.path("mean").asDouble(), step, day.toString());
      assertEquals(file.getMax(), day.path("max").asDouble(), step, day.toString());
      found++;
    }
    assertEquals(expected.size(), found);
  }

  @Test
  void badRowsAreNamedAndCountedAndTheRestIsStored(@TempDir Path folder) throws Exception {
    Path file =
        Files.writeString(
            folder.resolve("rows.csv"),
            """
            time,temperature_degC,humidity_pctRH,mold_temperature_degC,voc_raw,door
            2026-03-01T18:00,18.5,61,17.25,30100,shut
            2026-03-01T18:01,18.6,140,17.25,30100,shut
            2026-03-01T18:02,-60,61,17.25,30100,shut
            2026-03-01T18:03,warm,61,17.25,30100,shut
            2026-03-01T18:04,18.7,61,85,30100,shut
            2026-03-01T18:05,18.8,60,17.5,29800,shut
            2026-03-01T18:05,18.8,60,17.5,29800,shut
            2026-03-01T18:06,18.9,60,,,shut
            """);
    JsonNode answer = replay(file);
    assertEquals(3, answer.path("rows").asInt());
    assertEquals(3, answer.path("stored").asInt());
    assertEquals(5, answer.path("badRows").asInt());
    List<String> reasons = answer.path("warnings").findValuesAsText("reason");
    assertTrue(reasons.get(0).startsWith("line 3: humidity 140"), reasons.toString());
    assertTrue(reasons.get(1).startsWith("line 4: temperature -60"), reasons.toString());
    assertTrue(reasons.get(2).startsWith("line 5: temperature_degC \"warm\""), reasons.toString());
    assertTrue(reasons.get(3).startsWith("line 6: mold temperature 85"), reasons.toString());
    assertTrue(reasons.get(4).startsWith("line 8: "), reasons.toString());
    for (JsonNode day : answer.path("days")) {
      if (day.path("series").asText().equals("mold-temperature")) {
        assertEquals(2, day.path("n").asInt());
        assertEquals(17.25, day.path("min").asDouble(), MOLD_STEP);
        assertEquals(17.5, day.path("max").asDouble(), MOLD_STEP);
      }
    }
  }

  /** One device measures the air, one the mold, one a can; a chip misses now and then. */
  @Test
  void whatIsExportedIsReadBackWhole(@TempDir Path folder) throws Exception {
    Instant midnight = Instant.parse("2026-03-01T00:00:00Z");
    List<StoreEntry> samples = new ArrayList<>();
    for (int minute = 0; minute < 2 * 24 * 60; minute++) {
      Instant time = midnight.plusSeconds(60L * minute);
      List<Reading> air = new ArrayList<>();
      if (minute % 7 != 0) {
        air.add(Reading.of(Series.TEMPERATURE, Series.CELSIUS, 18 + minute % 5 * 0.1));
      }
      if (minute % 11 != 0) {
        air.add(Reading.of(Series.HUMIDITY, Series.RELATIVE_HUMIDITY, 50 + minute % 3));
      }
      air.add(Reading.of(Series.VOC_RAW, Series.NO_UNIT, 30_000 + minute % 9));
      samples.add(sample("air", time, air));
      samples.add(
          sample(
              "mold",
              time.plusSeconds(20),
              List.of(Reading.of(Series.MOLD_TEMPERATURE, Series.CELSIUS, 17.25))));
      samples.add(
          sample(
              "can",
              time.plusSeconds(40),
              List.of(Reading.of(Series.RESIN_TEMPERATURE, Series.CELSIUS, 19.5))));
    }
    Path file = folder.resolve("days.csv");
    try (ReachableDashboard house = ReachableDashboard.start("room", "shop")) {
      house.page().core().store().append(samples);
      Typed export =
          Typed.run(
              "export --from 2026-03-01 --to 2026-03-02 --out " + file + " --url " + house.url());
      assertEquals(0, export.status(), export.err());
      Path other = folder.resolve("denver.csv");
      Typed denver =
          Typed.run(
              "export --from 2026-03-01 --to 2026-03-01 --zone America/Denver --out "
                  + other
                  + " --url "
                  + house.url());
      assertEquals(0, denver.status(), denver.err());
      List<String> lines = Files.readAllLines(other);
      assertTrue(lines.get(1).startsWith("2026-03-01T07:00:00Z,"), lines.get(1));
      assertEquals(1 + 3 * (24 * 60), lines.size(), "24 hours from midnight in Denver");
      assertFalse(denver.out().contains("There are no readings"), denver.out());
      Typed early =
          Typed.run(
              "export --from 2025-03-01 --to 2025-03-01 --out "
                  + folder.resolve("early.csv")
                  + " --url "
                  + house.url());
      assertEquals(0, early.status(), early.err());
      assertTrue(early.out().contains("There are no readings in this time"), early.out());
    }
    assertEquals(1 + samples.size(), Files.readAllLines(file).size(), "both days are whole");
    JsonNode answer = replay(file);
    assertEquals(samples.size(), answer.path("rows").asInt());
    assertEquals(samples.size(), answer.path("stored").asInt());
    assertEquals(0, answer.path("badRows").asInt());
  }

  private static StoreEntry.Sample sample(String device, Instant time, List<Reading> readings) {
    return new StoreEntry.Sample(
        Channel.of("shop", device),
        Optional.empty(),
        SampleTimes.asSaid(time, time),
        readings,
        List.of());
  }

  @Test
  void aFileThatIsNoRecordingIsRefused(@TempDir Path folder) throws Exception {
    Path file = Files.writeString(folder.resolve("other.csv"), "when,what\n1,2\n");
    Typed typed = Typed.run("replay " + file);
    assertEquals(2, typed.status());
    assertTrue(typed.err().contains("lacks the column time, "), typed.err());
  }
}
