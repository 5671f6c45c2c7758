package org.layroom.predictor.emission;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** When fan and respirator are asked for: this project's own choice. */
class ProtectionTest {
  private static final Instant SAID = Instant.parse("2026-03-14T19:00:00Z");
  private static final Optional<Protection> LAST =
      Optional.of(new Protection(SAID, true, true, Respirator.HALF_MASK));

  private static Optional<String> asked(int minutes, Optional<Instant> leave, Respirator needed) {
    return Protection.asked(LAST, SAID.plusSeconds(60L * minutes), leave, needed);
  }

  @Test
  void theFirstCupOfAnEveningAsksAndASecondDoesNot() {
    assertTrue(
        Protection.asked(Optional.empty(), SAID, Optional.empty(), Respirator.HALF_MASK)
            .isPresent());
    assertEquals(Optional.empty(), asked(59, Optional.empty(), Respirator.HALF_MASK));
  }

  @Test
  void itIsAskedAgainAfterAnHourAfterALeaveAndForABetterMask() {
    assertTrue(asked(60, Optional.empty(), Respirator.HALF_MASK).isPresent());
    Optional<Instant> before = Optional.of(SAID.minusSeconds(60));
    Optional<Instant> since = Optional.of(SAID.plusSeconds(60));
    assertEquals(Optional.empty(), asked(5, before, Respirator.HALF_MASK));
    assertTrue(asked(5, since, Respirator.HALF_MASK).isPresent());
    assertTrue(
        asked(5, Optional.empty(), Respirator.FULL_FACE).orElseThrow().contains("full-face"));
    Optional<Protection> full = Optional.of(new Protection(SAID, true, true, Respirator.FULL_FACE));
    assertEquals(
        Optional.empty(),
        Protection.asked(full, SAID.plusSeconds(60), Optional.empty(), Respirator.HALF_MASK));
  }
}
