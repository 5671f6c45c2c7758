package org.layroom.device;

import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** What is rehearsed for the class archive goes as far as a real start does. */
class RehearsalTest {
  @Test
  @Timeout(120)
  void theRehearsalGoesOnUntilReadingsAreSent() throws Exception {
    assertTrue(Rehearsal.run());
  }
}
