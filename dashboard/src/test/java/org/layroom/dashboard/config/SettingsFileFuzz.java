package org.layroom.dashboard.config;

import com.code_intelligence.jazzer.junit.FuzzTest;
import com.code_intelligence.jazzer.mutation.annotation.NotNull;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Any settings file: settings, or every line that is wrong in words. */
class SettingsFileFuzz {
  @FuzzTest
  void files(byte @NotNull [] bytes) throws IOException {
    Path file = Files.createTempFile("layroom-settings-fuzz", ".properties");
    try {
      Files.write(file, bytes);
      SettingsFile.read(file);
    } catch (InvalidSettings e) {
      if (e.getMessage() == null || e.getMessage().isBlank()) {
        throw new AssertionError("refused without a reason", e);
      }
    } finally {
      Files.delete(file);
    }
  }
}
