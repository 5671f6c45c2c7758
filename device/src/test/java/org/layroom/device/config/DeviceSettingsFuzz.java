package org.layroom.device.config;

import com.code_intelligence.jazzer.junit.FuzzTest;
import com.code_intelligence.jazzer.mutation.annotation.NotNull;
import java.io.IOException;
import java.io.StringReader;
import java.time.Duration;
import java.util.Properties;

/** Any settings file: settings, or an IllegalArgumentException in words. */
class DeviceSettingsFuzz {
  @FuzzTest
  void settings(@NotNull String text) throws IOException {
    try {
      Properties properties = new Properties();
      properties.load(new StringReader(text));
      DeviceConfig config = DeviceConfig.of(properties);
      if (config.samplePeriod().compareTo(Duration.ofSeconds(1)) < 0
          || config.samplePeriod().compareTo(Duration.ofHours(1)) > 0) {
        throw new AssertionError("every " + config.samplePeriod());
      }
      config.watchSettings();
    } catch (IllegalArgumentException e) {
      if (e.getMessage() == null || e instanceof NumberFormatException) {
        throw new AssertionError("refused without saying what to write", e);
      }
    }
  }
}
