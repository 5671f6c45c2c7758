package org.layroom.device.startup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.supervision.Supervision;
import org.layroom.device.supervision.SupervisionWords;

/** The watchdog hears of work done, not of a program that merely exists. */
class HeartbeatTest {
  private final SteppedPace pace = new SteppedPace(Instant.parse("2026-03-14T19:00:00Z"));
  private final SupervisionWords words = new SupervisionWords(Duration.ofMinutes(2));
  private final Supervision supervision = words.supervision();

  private void sample(Heartbeat heartbeat) {
    heartbeat.accept(new Sample(pace.uptime(), pace.now(), true, List.of(), List.of()));
  }

  @Test
  void asLongAsSamplesComeItBeats() {
    Heartbeat heartbeat = new Heartbeat(pace, supervision, Duration.ofSeconds(10));
    heartbeat.start();
    assertEquals(List.of("READY=1"), words.all());
    for (int i = 0; i < 60; i++) {
      pace.advanceBy(Duration.ofSeconds(10));
      sample(heartbeat);
    }
    assertEquals(15, words.all().stream().filter("WATCHDOG=1"::equals).count(), "10 min / 40 s");
  }

  @Test
  void whenSamplesStopItFallsSilent() {
    Heartbeat heartbeat = new Heartbeat(pace, supervision, Duration.ofSeconds(10));
    heartbeat.start();
    pace.advanceBy(Duration.ofMinutes(3));
    int told = words.all().size();
    assertTrue(told <= 3, words.all().toString());
    pace.advanceBy(Duration.ofHours(3));
    assertEquals(told, words.all().size());
  }

  @Test
  void aSlowScheduleIsNotTakenForAStandstill() {
    Heartbeat heartbeat = new Heartbeat(pace, supervision, Duration.ofHours(1));
    heartbeat.start();
    for (int i = 0; i < 5; i++) {
      pace.advanceBy(Duration.ofHours(1));
      sample(heartbeat);
    }
    assertEquals(450, words.all().stream().filter("WATCHDOG=1"::equals).count(), "5 h / 40 s");
  }
}
