package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code layroom plan} from invented recordings: words, JSON and exit status. */
class PlanCommandTest {
  private static final Instant START = Instant.parse("2026-02-02T00:00:00Z");

  @TempDir Path folder = Path.of("");

  private static JsonNode json(Typed typed) throws Exception {
    return JsonMapper.builder().build().readTree(typed.out());
  }

  /** Twelve days that swing by 4 K, warmest at 3 p.m., with a mold that follows. */
  private Path room(double meanC) throws Exception {
    StringBuilder text = new StringBuilder("time,temperature_degC,mold_temperature_degC\n");
    double mold = meanC;
    for (int minute = 0; minute < 12 * 1440; minute += 10) {
      double air = meanC + 4 * Math.cos(2 * Math.PI * (minute / 60.0 - 15) / 24);
      mold += (air - mold) / 9;
      text.append(
          String.format(
              Locale.ROOT, "%s,%.2f,%.2f%n", START.plus(Duration.ofMinutes(minute)), air, mold));
    }
    Path file = folder.resolve("room.csv");
    Files.writeString(file, text);
    return file;
  }

  @Test
  void startsAreProposedInsideTheWakingHoursWithAllTheirSteps() throws Exception {
    Typed typed =
        Typed.run(
            "plan --json --material gp-resin --material iso-gel-coat --at 2026-02-13T18:00Z"
                + " --waking 08:00-21:30 --history "
                + room(20));
    assertEquals(0, typed.status(), typed.err());
    JsonNode json = json(typed);
    assertEquals("iso-gel-coat", json.path("chain").path(0).path("material").asText());
    assertEquals("gp-resin", json.path("chain").path(1).path("material").asText());
    assertTrue(json.path("proposed").size() > 0, typed.out());
    for (JsonNode start : json.path("proposed")) {
      for (JsonNode step : start.path("steps")) {
        LocalTime mixed =
            LocalTime.ofInstant(Instant.parse(step.path("mixAt").asText()), ZoneOffset.UTC);
        assertTrue(!mixed.isBefore(LocalTime.of(8, 0)), start.toString());
        assertTrue(mixed.isBefore(LocalTime.of(21, 30)), start.toString());
      }
      assertEquals(2, start.path("steps").size());
      assertTrue(start.path("chance").asDouble() >= 0.8);
    }
    assertTrue(json.path("refused").isEmpty());
  }

  @Test
  void aColdRoomSaysWhatGoesWrongAndCautionsAboutHeating() throws Exception {
    Typed typed = Typed.run("plan --material gp-resin --at 2026-02-13T18:00Z --history " + room(9));
    assertEquals(0, typed.status(), typed.err());
    assertTrue(typed.out().startsWith("No good start in the next three days."), typed.out());
    assertTrue(typed.out().contains("it needs 15 °C"), typed.out());
    assertTrue(typed.out().contains("no flame, no glowing element"), typed.out());
  }

  @Test
  void theShortestAiringIsTold() throws Exception {
    // ln(8 / 2) / 6 h = 13.86 min by the dilution law, times 3 for bad mixing.
    Typed typed =
        Typed.run(
            "plan --json --material gp-resin --at 2026-02-13T18:00Z --vapor 8 --vapor-wanted 2"
                + " --air-changes 6 --mixing 3 --history "
                + room(20));
    assertEquals(41.589, json(typed).path("airing").path("minutes").asDouble(), 0.001);
  }

  @Test
  void inputThatCannotBeUsedSaysWhatToChange() throws Exception {
    Path room = room(20);
    String at = " --at 2026-02-13T18:00Z --history " + room;
    Typed noMaterial = Typed.run("plan --json" + at);
    assertEquals(2, noMaterial.status());
    assertTrue(noMaterial.out().contains("gp-resin"), noMaterial.out());
    Typed waking = Typed.run("plan --json --material gp-resin --waking morning" + at);
    assertEquals(2, waking.status());
    assertEquals("waking", json(waking).path("refused").path(0).path("field").asText());
    Typed dose = Typed.run("plan --json --material gp-resin --dose 4%" + at);
    assertEquals(2, dose.status());
    assertTrue(dose.out().contains("1.0 to 2.5 %"), dose.out());
    Typed soon =
        Typed.run("plan --json --material gp-resin --at 2026-02-02T01:00Z --history " + room);
    assertEquals(2, soon.status());
    assertTrue(soon.out().contains("three hours"), soon.out());
  }

  @Test
  void withoutAHistoryTheRunningDashboardIsAsked() {
    Typed typed = Typed.run("plan --material gp-resin --url http://localhost:1/");
    assertEquals(1, typed.status());
    assertTrue(typed.err().contains("layroom serve"), typed.err());
  }
}
