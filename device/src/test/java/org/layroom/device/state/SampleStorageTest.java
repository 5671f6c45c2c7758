package org.layroom.device.state;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxInUse;
import org.layroom.device.outbox.OutboxOptions;

/** A device whose folder takes nothing goes on measuring, and says what that costs. */
class SampleStorageTest {
  private static final OutboxOptions OPTIONS = OutboxOptions.standard(Duration.ofSeconds(10));

  @TempDir Path folder;

  @Test
  void aFolderThatTakesNothingIsToldAndSamplesWaitElsewhere() throws IOException {
    Path file = Files.writeString(folder.resolve("outbox"), "no folder");
    SampleStorage kept = SampleStorage.in(file, OPTIONS);
    try (Outbox outbox = kept.outbox()) {
      assertEquals(0, outbox.last());
      assertTrue(kept.faults().get(0).reason().contains("lost at the next restart"));
      assertEquals("no folder", Files.readString(file));
    }
  }

  @Test
  void aFolderThatWorksIsNoFault() throws IOException {
    SampleStorage kept = SampleStorage.in(folder, OPTIONS);
    try (Outbox outbox = kept.outbox()) {
      assertEquals(List.of(), kept.faults(), outbox.name());
    }
  }

  @Test
  void aSecondDeviceIsTurnedAwayAllTheSame() throws IOException {
    try (Outbox first = Outbox.open(folder, OPTIONS)) {
      assertThrows(OutboxInUse.class, () -> SampleStorage.in(folder, OPTIONS), first.name());
    }
  }
}
