package org.layroom.device.startup;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Comparator;
import java.util.Properties;
import java.util.stream.Stream;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Hardware;
import org.layroom.device.bus.I2cBus;
import org.layroom.device.bus.KernelOneWire;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.fitting.ChipCatalog;
import org.layroom.device.pace.RealPace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Topic;
import org.tinylog.Logger;

/**
 * A whole device once, with simulated sensors and a broker that only nods, until its first readings
 * are sent, so that Java can note which classes a start needs (class data sharing, JDK 17 manual of
 * {@code java}, {@code -XX:ArchiveClassesAtExit}). Opens the Pi's hardware too where there is one,
 * and touches no chip and no line. Nothing is kept.
 */
final class Rehearsal {
  private static final Duration PATIENCE = Duration.ofMinutes(1);
  private static final String THERMOMETER = "28-000000000000";

  private Rehearsal() {}

  /** Whether the device came as far as to send readings; what it loaded until then is noted. */
  static boolean run() throws IOException, BusFault, InterruptedException {
    Path folder = Files.createTempDirectory("layroom-rehearsal");
    Channel channel = DeviceConfig.of(new Properties()).channel();
    try (RehearsalBroker broker = new RehearsalBroker(channel.topic(Topic.READINGS))) {
      Properties properties = new Properties();
      properties.setProperty("data", folder.toString());
      properties.setProperty("broker.uri", broker.uri().toString());
      DeviceConfig config = DeviceConfig.of(properties);
      RunningDevice.check(config, true);
      boolean sent;
      try (RunningDevice device = RunningDevice.start(config, true)) {
        sent = broker.heard(PATIENCE);
      }
      readThermometer(folder.resolve("1-wire"));
      openHardware();
      return sent;
    } finally {
      remove(folder);
    }
  }

  /** The kernel's way to a thermometer, on a made-up one that is no use to anybody. */
  private static void readThermometer(Path devices) throws IOException, BusFault {
    Path folder = Files.createDirectories(devices.resolve(THERMOMETER));
    Files.createFile(folder.resolve("w1_slave"));
    try (RealPace pace = new RealPace()) {
      KernelOneWire wire = new KernelOneWire(devices, pace);
      wire.readAhead();
      wire.slaveText(THERMOMETER);
    }
  }

  /** As far as a bus that a chip could be asked on; none is. */
  private static void openHardware() {
    try (Hardware hardware = Hardware.open();
        I2cBus bus = hardware.i2c(1)) {
      bus.device(ChipCatalog.standard().onI2c().get(0).addresses().get(0));
    } catch (BusFault notAPi) {
      Logger.debug("Rehearsed without a Pi's buses: {}", notAPi.reason());
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
