package org.layroom.device.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;

import java.time.Duration;
import java.time.Instant;
import java.util.function.IntPredicate;
import org.junit.jupiter.api.Test;
import org.layroom.device.pace.SteppedPace;

/** How often a chip is asked within one sample. */
class RetriesTest {
  private final SteppedPace pace = new SteppedPace(Instant.EPOCH);
  private final Retries retries = new Retries(pace);
  private int asked;

  private ChipRead<Integer> read(IntPredicate answers) {
    asked = 0;
    return retries.read(
        () -> answers.test(++asked) ? ChipRead.value(asked) : ChipRead.failed("spark " + asked));
  }

  @Test
  void aGoodAnswerIsTakenAtOnce() {
    assertEquals(ChipRead.value(1), read(time -> true));
    assertEquals(Duration.ZERO, pace.uptime());
  }

  @Test
  void aBadAnswerIsAskedForAgain() {
    assertEquals(ChipRead.value(3), read(time -> time == 3));
    assertEquals(ChipRead.value(4), read(time -> time == 4));
  }

  @Test
  void aDeadChipIsAskedOnceASampleUntilItAnswers() {
    assertEquals("spark 4", assertInstanceOf(ChipRead.Failed.class, read(t -> false)).reason());
    read(time -> false);
    assertEquals(1, asked);
    read(time -> true);
    assertEquals(ChipRead.value(2), read(time -> time == 2));
  }

  @Test
  void aBusThatIsHeldIsNotWaitedForTwice() {
    read(
        time -> {
          pace.advanceBy(Duration.ofSeconds(1));
          return false;
        });
    assertEquals(1, asked);
  }
}
