package org.layroom.dashboard.recording;

import com.code_intelligence.jazzer.junit.FuzzTest;
import com.code_intelligence.jazzer.mutation.annotation.NotNull;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Set;

/**
 * Any file given as a recording: rows in order of time with numbers that can be, bad rows with the
 * reason, or the reason why it cannot be used at all.
 */
class RecordingFuzz {
  private static final Set<String> REQUIRED = Set.of(Recording.TEMPERATURE);
  private static final Set<String> OPTIONAL =
      Set.of(Recording.HUMIDITY, Recording.MOLD_TEMPERATURE, Recording.VOC_RAW);

  @FuzzTest
  void files(byte @NotNull [] bytes) throws IOException {
    Path file = Files.createTempFile("layroom-recording-fuzz", ".csv");
    try {
      Files.write(file, bytes);
      read(file);
    } finally {
      Files.delete(file);
    }
  }

  private static void read(Path file) throws IOException {
    Instant[] last = {Instant.MIN};
    try (Recording recording =
        Recording.open(file, ZoneId.of("Europe/Berlin"), REQUIRED, OPTIONAL)) {
      recording.forEach(
          row -> {
            if (row.time().isBefore(last[0])) {
              throw new AssertionError(row.time() + " after " + last[0]);
            }
            last[0] = row.time();
            row.values().values().forEach(RecordingFuzz::finite);
          },
          bad -> {
            if (bad.reason().isBlank()) {
              throw new AssertionError("refused without a reason");
            }
          });
    } catch (UnusableRecording e) {
      if (e.getMessage() == null) {
        throw new AssertionError("refused without a reason", e);
      }
    }
  }

  private static void finite(double value) {
    if (!Double.isFinite(value)) {
      throw new AssertionError("a number that is none: " + value);
    }
  }
}
