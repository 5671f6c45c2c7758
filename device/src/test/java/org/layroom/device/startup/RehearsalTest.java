package org.layroom.device.startup;

import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** What is rehearsed for the class archive goes as far as a real start does. */
class RehearsalTest {
  @Test
  void theRehearsalGoesOnUntilReadingsAreSent() throws Exception {
    assertTrue(Rehearsal.run());
  }
}
