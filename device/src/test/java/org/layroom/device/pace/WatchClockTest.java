package org.layroom.device.pace;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;

/** The watches' time on a machine whose clock is set only after the start. */
class WatchClockTest {
  private static final Instant WRONG = Instant.parse("2026-01-01T00:00:00Z");
  private static final Instant RIGHT = Instant.parse("2026-03-14T19:00:00Z");

  @Test
  void whatHappenedBeforeTheClockWasSetHappenedAfterTheStartByTheRightClock() {
    try (SteppedPace pace = new SteppedPace(WRONG)) {
      pace.setWallClockSet(false);
      WatchClock clock = new WatchClock(pace);
      Instant before = clock.now();
      pace.advanceBy(Duration.ofMinutes(1));
      pace.setWallClock(RIGHT);
      pace.setWallClockSet(true);
      Instant after = clock.now();
      assertEquals(RIGHT, clock.wall(after));
      assertEquals(RIGHT.minusSeconds(60), clock.wall(before));
      pace.advanceBy(Duration.ofMinutes(1));
      assertEquals(RIGHT.minusSeconds(60), clock.wall(before));
      assertEquals(RIGHT, clock.wall(after));
    }
  }

  @Test
  void aClockThatIsSetBackMovesEveryTime() {
    try (SteppedPace pace = new SteppedPace(RIGHT)) {
      WatchClock clock = new WatchClock(pace);
      Instant before = clock.now();
      pace.setWallClock(WRONG);
      assertEquals(WRONG, clock.wall(before));
      assertEquals(WRONG, clock.wall(clock.now()));
    }
  }
}
