package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import java.util.TreeMap;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.testing.OfficeRecording;

/** {@code layroom forecast} from recordings: invented ones, and a real office where it is given. */
class ForecastCommandTest {
  private static final Instant START = Instant.parse("2026-02-02T00:00:00Z");
  private static final double MEAN_C = 15;
  private static final double SWING_K = 4;

  @TempDir Path folder = Path.of("");

  private static JsonNode json(Typed typed) throws Exception {
    return JsonMapper.builder().build().readTree(typed.out());
  }

  /** An invented room: warmest at 3 p.m., coldest at 3 a.m., the same every day. */
  private static double invented(Instant time) {
    double hour = Duration.between(START, time).toMinutes() / 60.0;
    return MEAN_C + SWING_K * Math.cos(2 * Math.PI * (hour - 15) / 24);
  }

  private static String rows(Instant from, int hours, UnaryOperator<String> value) {
    StringBuilder text = new StringBuilder();
    for (int minute = 0; minute < hours * 60; minute += 10) {
      Instant time = from.plus(Duration.ofMinutes(minute));
      String figure = String.format(Locale.ROOT, "%.2f", invented(time));
      text.append(time).append(',').append(value.apply(figure)).append('\n');
    }
    return text.toString();
  }

  private Path file(String name, String text) throws Exception {
    Path file = folder.resolve(name);
    Files.writeString(file, text);
    return file;
  }

  private Path days(int days) throws Exception {
    return file(
        "room.csv", "time,temperature_degC\n" + rows(START, 24 * days, UnaryOperator.identity()));
  }

  @Test
  void aRoomThatDoesTheSameEveryDayIsForecastToDoItAgain() throws Exception {
    Typed typed =
        Typed.run("forecast --json --hours 72 --at 2026-02-12T18:00Z --history " + days(12));
    assertEquals(0, typed.status(), typed.err());
    JsonNode points = json(typed).path("points");
    assertEquals(72 * 6, points.size());
    for (int i = 0; i < points.size(); i++) {
      JsonNode point = points.get(i);
      Instant time = Instant.parse(point.path("time").asText());
      assertEquals(Instant.parse("2026-02-12T18:10:00Z").plusSeconds(600L * i), time);
      assertEquals(invented(time), point.path("p50").asDouble(), 0.5, time.toString());
      assertTrue(point.path("p10").asDouble() <= point.path("p50").asDouble());
      assertTrue(point.path("p90").asDouble() >= point.path("p50").asDouble());
    }
    assertTrue(json(typed).path("refused").isEmpty());
    assertTrue(json(typed).path("warnings").isEmpty());
  }

  @Test
  void theWordsSayWhenItIsColdestInTheZoneAskedFor() throws Exception {
    // Coldest at 3 a.m. UTC, which is 4 a.m. in Paris in winter (time zone rules).
    Typed typed =
        Typed.run("forecast --zone Europe/Paris --at 2026-02-12T19:00 --history " + days(12));
    assertEquals(0, typed.status(), typed.err());
    assertTrue(typed.out().startsWith("Air dips to 11."), typed.out());
    assertTrue(typed.out().contains("about Fri 4:00 AM"), typed.out());
    assertTrue(typed.out().contains("Overnight forecasts were off by "), typed.out());
  }

  @Test
  void rowsAfterTheTimeAskedForAreNotLookedAt() throws Exception {
    String known = "time,temperature_degC\n" + rows(START, 24 * 9, UnaryOperator.identity());
    Instant later = START.plus(Duration.ofDays(9));
    String at = " --at " + later.minusSeconds(600) + " --json --history ";
    Typed alone = Typed.run("forecast" + at + file("alone.csv", known));
    assertEquals(0, alone.status(), alone.err());
    String warmer = rows(later, 24, figure -> "35");
    String nonsense = rows(later.plus(Duration.ofDays(1)), 3, figure -> "warm,and,more");
    String untimed = "tomorrow,20\n";
    Typed more = Typed.run("forecast" + at + file("more.csv", known + warmer + nonsense + untimed));
    assertEquals(alone.out(), more.out());
  }

  @Test
  void tooLittleHistoryIsRefusedWithWhatIsNeeded() throws Exception {
    Path file = days(3);
    Typed typed = Typed.run("forecast --json --at 2026-02-02T02:00Z --history " + file);
    assertEquals(2, typed.status());
    JsonNode refused = json(typed).path("refused");
    assertEquals("history", refused.path(0).path("field").asText());
    assertTrue(refused.path(0).path("reason").asText().contains("three hours"), typed.out());
    assertTrue(json(typed).path("points").isEmpty());
    Typed before = Typed.run("forecast --json --at 2020-01-01T00:00Z --history " + file);
    assertEquals(2, before.status());
    Typed longAfter = Typed.run("forecast --json --at 2026-03-01T00:00Z --history " + file);
    assertEquals(2, longAfter.status());
    assertTrue(longAfter.out().contains("The last reading is too old"), longAfter.out());
  }

  @Test
  void usualSpellingsOfColumnsAreReadAndGapsAreNoError() throws Exception {
    StringBuilder text = new StringBuilder("Timestamp,Temperature (°C),Humidity [%],door\n");
    rows(START, 48, UnaryOperator.identity())
        .lines()
        .forEach(
            line -> text.append(line.replace('T', ' ').replace("Z,", ",")).append(",50,shut\n"));
    text.append("2026-02-04 00:00,NA,,open\n");
    Typed typed =
        Typed.run("forecast --json --at 2026-02-04T00:00 --history " + file("x.csv", "" + text));
    assertEquals(0, typed.status(), typed.err());
    assertEquals(432, json(typed).path("humidity").size());
    assertTrue(json(typed).path("warnings").isEmpty(), typed.out());
  }

  @Test
  void aUnitThatHadToBeSupposedIsSaid() throws Exception {
    String text =
        "date,time,temp\n"
            + rows(START, 48, UnaryOperator.identity()).replace("T", ",").replace("Z,", ",");
    Typed typed = Typed.run("forecast --json --at 2026-02-04T00:00 --history " + file("y", text));
    assertEquals(0, typed.status(), typed.err());
    String warning = json(typed).path("warnings").path(0).path("reason").asText();
    assertTrue(warning.contains("Column temp has no unit"), warning);
  }

  @Test
  void badRowsAreNamedAndCountedAndTheRestIsUsed() throws Exception {
    String good = rows(START, 48, UnaryOperator.identity());
    String bad = "2026-02-04T00:00Z,warm\n".repeat(7) + "2026-02-04T00:10Z,400\n";
    Typed typed =
        Typed.run(
            "forecast --json --at 2026-02-05T00:00 --history "
                + file("bad.csv", "time,temperature_degC\n" + good + bad));
    assertEquals(0, typed.status(), typed.err());
    JsonNode warnings = json(typed).path("warnings");
    assertEquals("line 290", warnings.path(0).path("field").asText());
    assertTrue(warnings.path(0).path("reason").asText().contains("\"warm\" is not a number"));
    assertEquals(6, warnings.size());
    assertTrue(warnings.path(5).path("reason").asText().contains("3 more rows"), typed.out());
  }

  @Test
  void inputThatCannotBeUsedSaysWhatToChange() throws Exception {
    Path file = days(3);
    Typed tooFar = Typed.run("forecast --json --hours 80 --at 2026-02-04T00:00 --history " + file);
    assertEquals(2, tooFar.status());
    assertTrue(tooFar.out().contains("and 72"), tooFar.out());
    Typed noTime = Typed.run("forecast --json --history " + file);
    assertEquals(2, noTime.status());
    assertEquals("at", json(noTime).path("refused").path(0).path("field").asText());
    Typed noFile = Typed.run("forecast --at 2026-02-04T00:00 --history nowhere.csv");
    assertEquals(2, noFile.status());
    assertTrue(noFile.err().contains("nowhere.csv"), noFile.err());
    Path other = file("other.csv", "time,pressure_hPa\n2026-02-04T00:00,1013\n");
    Typed noColumn = Typed.run("forecast --at 2026-02-04T00:00 --history " + other);
    assertEquals(2, noColumn.status());
    assertTrue(noColumn.err().contains("lacks the column temperature_degC"), noColumn.err());
  }

  @Test
  void outdoorRowsAfterTheTimeAreNotLookedAtEither() throws Exception {
    Path room = days(12);
    String head = "time,temperature_degC\n";
    String known = rows(START, 24 * 10, figure -> figure);
    String tail = rows(START.plus(Duration.ofDays(10)), 24, figure -> "-20");
    String typed = "forecast --json --at 2026-02-11T23:50Z --history " + room + " --outdoor ";
    Typed alone = Typed.run(typed + file("out.csv", head + known));
    Typed more = Typed.run(typed + file("more-out.csv", head + known + tail));
    assertEquals(0, alone.status(), alone.err());
    assertEquals(alone.out(), more.out());
  }

  /**
   * Truth: one-minute temperatures of a real office (Candanedo and Feldheim, Energy and Buildings
   * 112 (2016) 28-39). Six days of history at best, so the band is only asked to hold most of a
   * night.
   */
  @Test
  void aRecordedOfficeStaysMostlyInsideTheBandOvernight() throws Exception {
    Path data = OfficeRecording.required();
    Typed typed = Typed.run("forecast --json --hours 12 --at 2015-02-09T18:00 --history " + data);
    assertEquals(0, typed.status(), typed.err());
    TreeMap<Instant, Double> truth =
        Files.readAllLines(data).stream()
            .skip(1)
            .map(line -> line.split(","))
            .collect(
                Collectors.toMap(
                    cells -> Instant.parse(cells[0] + "Z"),
                    cells -> Double.valueOf(cells[1]),
                    (a, b) -> a,
                    TreeMap::new));
    int inside = 0;
    for (JsonNode point : json(typed).path("points")) {
      double then = truth.ceilingEntry(Instant.parse(point.path("time").asText())).getValue();
      inside +=
          then >= point.path("p10").asDouble() && then <= point.path("p90").asDouble() ? 1 : 0;
    }
    assertEquals(72, json(typed).path("points").size());
    assertTrue(inside > 43, inside + " of 72 inside");
  }
}
