package org.layroom.device.pace;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The promises of the three paces. */
class PaceTest {
  private static final Instant START = Instant.parse("2026-03-14T19:00:00Z");

  @Test
  void aSteppedPaceRunsWhatFallsDueInOrderAndAtItsTime() {
    try (SteppedPace pace = new SteppedPace(START)) {
      List<String> ran = new ArrayList<>();
      pace.every(Duration.ofSeconds(10), () -> ran.add("a" + pace.uptime().toSeconds()));
      pace.every(Duration.ofSeconds(15), () -> ran.add("b" + pace.uptime().toSeconds()));
      pace.after(Duration.ofSeconds(12), () -> ran.add("c" + pace.uptime().toSeconds()));
      pace.advanceTo(START.plusSeconds(30));
      assertEquals(List.of("a10", "c12", "b15", "a20", "a30", "b30"), ran);
    }
  }

  @Test
  void aTaskThatThrowsIsCalledAgainAndOneCalledOffIsNot() {
    try (SteppedPace pace = new SteppedPace(START)) {
      List<Duration> ran = new ArrayList<>();
      Pace.Scheduled task =
          pace.every(
              Duration.ofSeconds(1),
              () -> {
                ran.add(pace.uptime());
                throw new IllegalStateException("on purpose");
              });
      pace.advanceBy(Duration.ofSeconds(3));
      assertEquals(3, ran.size());
      task.cancel();
      pace.advanceBy(Duration.ofSeconds(3));
      assertEquals(3, ran.size());
    }
  }

  @Test
  void aWallClockThatJumpsLeavesTheRunningTimeAlone() {
    try (SteppedPace pace = new SteppedPace(START)) {
      pace.advanceBy(Duration.ofSeconds(5));
      pace.setWallClock(START.minus(Duration.ofDays(7)));
      assertEquals(Duration.ofSeconds(5), pace.uptime());
      assertEquals(START.minus(Duration.ofDays(7)), pace.now());
      pace.advanceBy(Duration.ofSeconds(5));
      assertEquals(START.minus(Duration.ofDays(7)).plusSeconds(5), pace.now());
    }
  }

  @Test
  void timeDoesNotGoBackAndTasksCannotMoveIt() {
    try (SteppedPace pace = new SteppedPace(START)) {
      assertThrows(IllegalArgumentException.class, () -> pace.advanceTo(START.minusMillis(1)));
      List<Throwable> thrown = new ArrayList<>();
      pace.after(
          Duration.ZERO,
          () ->
              thrown.add(
                  assertThrows(
                      IllegalStateException.class, () -> pace.advanceBy(Duration.ofSeconds(1)))));
      pace.advanceBy(Duration.ZERO);
      assertEquals(1, thrown.size());
    }
  }

  @Test
  void aPauseInsideATaskPassesOnTheSameClock() {
    try (SteppedPace pace = new SteppedPace(START)) {
      List<Duration> ran = new ArrayList<>();
      pace.every(
          Duration.ofSeconds(10),
          () -> {
            try {
              pace.pause(Duration.ofMillis(30));
            } catch (InterruptedException e) {
              throw new IllegalStateException(e);
            }
            ran.add(pace.uptime());
          });
      pace.advanceBy(Duration.ofSeconds(20));
      assertEquals(List.of(Duration.ofMillis(10_030), Duration.ofMillis(20_030)), ran);
    }
  }

  @Test
  void aScaledPaceCountsFasterThanTheComputer() throws InterruptedException {
    try (ScaledPace pace = new ScaledPace(START, 10_000)) {
      CountDownLatch hours = new CountDownLatch(2);
      pace.every(Duration.ofHours(1), hours::countDown);
      assertTrue(hours.await(2, TimeUnit.MINUTES), "two hours pass by themselves");
      assertTrue(pace.uptime().compareTo(Duration.ofHours(2)) >= 0);
      assertTrue(pace.now().isAfter(START.plus(Duration.ofHours(2))));
      assertTrue(pace.wallClockSet());
    }
    assertThrows(IllegalArgumentException.class, () -> new ScaledPace(START, 0));
  }

  @Test
  void theNetworksWordCountsWhereSystemdKeepsTheTime(@TempDir Path folder) throws Exception {
    try (RealPace pace = new RealPace(folder)) {
      assertFalse(pace.wallClockSet(), "the folder is there, its file not yet");
      assertEquals(Optional.empty(), pace.wallClockSetAt());
      Path mark = Files.createFile(folder.resolve("synchronized"));
      assertTrue(pace.wallClockSet());
      Files.setLastModifiedTime(mark, FileTime.from(START));
      assertEquals(Optional.of(START), pace.wallClockSetAt());
    }
  }

  @Test
  void aPeriodOfZeroIsRefused() {
    try (RealPace pace = new RealPace()) {
      assertThrows(IllegalArgumentException.class, () -> pace.every(Duration.ZERO, () -> {}));
    }
  }
}
