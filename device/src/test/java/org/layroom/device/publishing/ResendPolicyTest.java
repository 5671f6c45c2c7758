package org.layroom.device.publishing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import org.junit.jupiter.api.Test;

/** When sending again has no sense any more, and when it has again. */
class ResendPolicyTest {
  private final ResendPolicy patience = new ResendPolicy();
  private Duration now = Duration.ZERO;

  private void waitInVain(int times) {
    for (int i = 0; i < times; i++) {
      while (!patience.isOver(now)) {
        now = now.plusSeconds(1);
      }
      patience.over(now);
    }
  }

  @Test
  void theFirstWaitOutlastsTwoMarksOfAQuietRoom() {
    assertFalse(patience.isOver(Duration.ofSeconds(150)));
    assertTrue(patience.isOver(Duration.ofSeconds(151)));
    assertEquals(Duration.ofSeconds(150), patience.over(Duration.ofSeconds(151)));
  }

  @Test
  void withADashboardThatIsAwayEverythingIsSentAgainForAsLongAsItTakes() {
    patience.dashboard(false);
    waitInVain(1000);
    assertFalse(patience.refused());
    assertTrue(now.compareTo(Duration.ofHours(84)) < 0, "once in five minutes: " + now);
  }

  @Test
  void withADashboardThatIsThereThreeTimesInVainIsTakenForRefused() {
    patience.dashboard(true);
    waitInVain(2);
    assertFalse(patience.refused());
    waitInVain(1);
    assertTrue(patience.refused());
    Duration then = now;
    waitInVain(144);
    assertTrue(now.minus(then).compareTo(Duration.ofHours(23)) > 0, "ten minutes each: " + now);
  }

  @Test
  void oneStoredReadingOrADashboardThatGoesEndsIt() {
    patience.dashboard(true);
    waitInVain(5);
    patience.progressed(now);
    assertFalse(patience.refused());
    assertFalse(patience.isOver(now.plusSeconds(150)));
    waitInVain(5);
    assertTrue(patience.refused());
    patience.dashboard(false);
    assertFalse(patience.refused());
  }
}
