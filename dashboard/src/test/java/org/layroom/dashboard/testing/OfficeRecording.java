package org.layroom.dashboard.testing;

import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Path;

/**
 * One-minute data of a real office over six days (Candanedo and Feldheim, Energy and Buildings 112
 * (2016) 28-39; UCI, CC BY 4.0), named by a property because it is not part of this project.
 */
public final class OfficeRecording {
  private OfficeRecording() {}

  /** The file; where none is named the test is left out, and under CI it fails. */
  public static Path required() {
    String data = System.getProperty("layroom.data", "");
    if (data.isEmpty() && System.getenv("CI") != null) {
      fail("give the recording of an office with -Dlayroom.data=FILE.csv");
    }
    assumeTrue(!data.isEmpty(), "no recording given with -Dlayroom.data=FILE.csv");
    return Path.of(data);
  }
}
