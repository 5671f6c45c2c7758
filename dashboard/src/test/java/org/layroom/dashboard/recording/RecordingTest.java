package org.layroom.dashboard.recording;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A recording gives every good row, and names every bad one with its line. */
class RecordingTest {
  @TempDir Path folder = Path.of("");

  private final List<Row> good = new ArrayList<>();
  private final List<BadRow> bad = new ArrayList<>();

  private Recording open(String text) throws Exception {
    return open(text, ZoneOffset.UTC);
  }

  private Recording open(String text, ZoneId zone) throws Exception {
    Path file = folder.resolve("recording.csv");
    Files.writeString(file, text);
    return Recording.open(
        file, zone, Set.of(Recording.TEMPERATURE, Recording.HUMIDITY), Set.of(Recording.VOC_RAW));
  }

  private void read(Recording recording) throws Exception {
    try (recording) {
      recording.forEach(good::add, bad::add);
    }
  }

  @Test
  void everyGoodRowIsGivenWithItsLineTimeAndValues() throws Exception {
    read(
        open(
            """
            time,temperature_degC,humidity_pctRH,co2_ppm
            2015-02-04T17:51:00,23.18,27.272,721.25
            2015-02-04T17:51:59Z,23.15,27.2675,714
            2015-02-04T18:53+01:00,23.1,27.1,713.5
            """));
    assertEquals(List.of(), bad);
    assertEquals(3, good.size());
    assertEquals(2, good.get(0).line());
    assertEquals(Instant.parse("2015-02-04T17:51:00Z"), good.get(0).time());
    assertEquals(23.18, good.get(0).value(Recording.TEMPERATURE).orElseThrow());
    assertTrue(good.get(0).value(Recording.VOC_RAW).isEmpty());
    assertEquals(Instant.parse("2015-02-04T17:53:00Z"), good.get(2).time());
  }

  @Test
  void foreignColumnsAreNamed() throws Exception {
    try (Recording recording = open("co2_ppm,time,temperature_degC,humidity_pctRH\n")) {
      assertEquals(List.of("co2_ppm"), recording.ignoredColumns());
    }
  }

  @Test
  void aTimeWithoutOffsetIsTakenInTheZoneGiven() throws Exception {
    read(
        open(
            "time,temperature_degC,humidity_pctRH\n2026-07-01T12:00,20,50\n",
            ZoneId.of("Europe/Paris")));
    assertEquals(Instant.parse("2026-07-01T10:00:00Z"), good.get(0).time());
  }

  @Test
  void everyBadRowIsNamedWithItsLineAndNoneStopsTheRun() throws Exception {
    read(
        open(
            """
            time,temperature_degC,humidity_pctRH,voc_raw
            yesterday,20,50,30000
            2026-03-01T10:00,warm,50,30000
            2026-03-01T10:01,20,,30000
            2026-03-01T10:02,NaN,50,30000
            2026-03-01T10:03,0x1p3,50,30000
            2026-03-01T10:04,20,50
            2026-03-01T10:05,20,50,
            2026-03-01T10:05,20,50,30000
            2026-03-01T09:00,20,50,30000
            2026-03-01T10:06,20,50,30000
            """));
    assertEquals(List.of(8L, 11L), good.stream().map(Row::line).toList());
    assertEquals(List.of(2L, 3L, 4L, 5L, 6L, 7L, 9L, 10L), bad.stream().map(BadRow::line).toList());
    assertTrue(bad.get(0).toString().contains("line 2: time \"yesterday\" is not ISO 8601"));
    assertTrue(bad.get(1).reason().contains("temperature_degC \"warm\" is not a number"));
    assertTrue(bad.get(6).reason().contains("is not later than"));
  }

  @Test
  void aRowThatCannotBeShownIsABadRowToo() throws Exception {
    try (Recording recording =
        open("time,temperature_degC,humidity_pctRH\n2026-03-01T10:00,900,50\n")) {
      recording.forEach(
          row -> {
            throw new IllegalArgumentException("900 is too hot for the chip");
          },
          bad::add);
    }
    assertEquals("line 2: 900 is too hot for the chip", bad.get(0).toString());
  }

  @Test
  void aFileWithoutTheColumnsSaysWhichAreMissing() {
    UnusableRecording refusal =
        assertThrows(UnusableRecording.class, () -> open("when,temp\n1,2\n"));
    assertTrue(String.valueOf(refusal.getMessage()).contains("lacks the column time, "));
  }

  @Test
  void aMissingFileIsNamed() {
    Path nowhere = folder.resolve("nowhere.csv");
    UnusableRecording refusal =
        assertThrows(
            UnusableRecording.class,
            () -> Recording.open(nowhere, ZoneOffset.UTC, Set.of(), Set.of()));
    assertTrue(String.valueOf(refusal.getMessage()).contains("nowhere.csv"));
  }

  @Test
  void bytesThatAreNoTextEndTheReadingWithTheirLine() throws Exception {
    Path file = folder.resolve("bytes.csv");
    byte[] head = "time,temperature_degC,humidity_pctRH\n".getBytes(StandardCharsets.UTF_8);
    byte[] all = new byte[head.length + 4];
    System.arraycopy(head, 0, all, 0, head.length);
    all[head.length] = (byte) 0xff;
    all[head.length + 1] = (byte) 0xfe;
    Files.write(file, all);
    assertThrows(
        UnusableRecording.class,
        () -> {
          try (Recording recording = Recording.open(file, ZoneOffset.UTC, Set.of(), Set.of())) {
            recording.forEach(good::add, bad::add);
          }
        });
  }
}
