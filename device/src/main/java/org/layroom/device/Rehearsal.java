package org.layroom.device;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.Optional;
import java.util.Properties;
import java.util.stream.Stream;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Hardware;

/**
 * A whole device once, with simulated sensors and against a broker that is not there, so that Java
 * can note which classes a start needs (class data sharing, JDK 17 manual of {@code java}, {@code
 * -XX:ArchiveClassesAtExit}). Opens the Pi's hardware too where there is one, and touches no chip
 * and no line. Nothing is kept.
 */
final class Rehearsal {
  /** Port 9 is "discard" (RFC 863): nobody answers there. */
  private static final String NOBODY = "mqtt://127.0.0.1:9";

  private Rehearsal() {}

  static void run() throws IOException, BusFault {
    Path folder = Files.createTempDirectory("layroom-rehearsal");
    try {
      Properties properties = new Properties();
      properties.setProperty("data", folder.toString());
      properties.setProperty("broker.uri", NOBODY);
      DeviceConfig config = DeviceConfig.of(properties);
      RunningDevice.check(config, true);
      RunningDevice.start(config, true).close();
      openHardware().ifPresent(Hardware::close);
    } finally {
      remove(folder);
    }
  }

  private static Optional<Hardware> openHardware() {
    try {
      return Optional.of(Hardware.open());
    } catch (BusFault notAPi) {
      return Optional.empty();
    }
  }

  private static void remove(Path folder) throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      for (Path one : all.sorted(Comparator.reverseOrder()).toList()) {
        Files.deleteIfExists(one);
      }
    }
  }
}
