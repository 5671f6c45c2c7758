package org.layroom.device.startup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Instant;
import java.util.List;
import java.util.Properties;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.fitting.FittedSensors;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.CurrentCleanAir;
import org.layroom.device.simulated.RoomTruth;
import org.layroom.device.simulated.SimulatedBench;
import org.layroom.device.simulated.SimulatedOneWire.Behavior;

/** What a person reads who has just wired the sensors. */
class WiringCheckTest {
  private final SteppedPace pace = new SteppedPace(Instant.parse("2026-03-14T19:00:00Z"));
  private final SimulatedBench bench =
      new SimulatedBench(() -> new RoomTruth(20, 50, 18, 17, 101_325, 31_000), () -> pace.uptime());

  private WiringCheck check(String... settings) {
    Properties properties = new Properties();
    if (settings.length == 0) {
      properties.setProperty("mold.sensor", SimulatedBench.MOLD_ID);
      properties.setProperty("resin.sensor", SimulatedBench.RESIN_ID);
    }
    for (String setting : settings) {
      String[] both = setting.split("=", 2);
      properties.setProperty(both[0], both[1]);
    }
    DeviceConfig config = DeviceConfig.of(properties);
    return WiringCheck.of(
        new FittedSensors(
            bench.i2c(), bench.oneWire(), pace, config, new CurrentCleanAir(config.cleanAir())),
        pace);
  }

  private static boolean says(WiringCheck check, String kind, String words) {
    return check.lines().stream().anyMatch(line -> line.startsWith(kind) && line.contains(words));
  }

  @Test
  void allThatIsWiredIsFoundAndRead() {
    WiringCheck check = check();
    assertTrue(check.well());
    assertTrue(says(check, "found", "air sensor SHT4x"), check.toString());
    assertTrue(says(check, "found", "vapor sensor SGP40"), check.toString());
    assertTrue(says(check, "found", SimulatedBench.MOLD_ID), check.toString());
    assertTrue(says(check, "reads", "temperature: 20.00 °C"), check.toString());
    assertTrue(says(check, "reads", "mold-temperature: 18.00 °C"), check.toString());
    assertTrue(says(check, "waits", "voc-raw: the first 60 s"), check.toString());
    assertFalse(says(check, "none", ""), check.toString());
    assertFalse(says(check, "fault", ""), check.toString());
  }

  @Test
  void whatIsMissingIsNamedWithTheAddressWhereItWasLookedFor() {
    bench.i2c().unplug(SimulatedBench.AIR_ADDRESS);
    bench.i2c().unplug(SimulatedBench.VOC_ADDRESS);
    WiringCheck check = check();
    assertTrue(says(check, "none", "0x44"), check.toString());
    assertTrue(says(check, "none", "0x59"), check.toString());
    assertTrue(says(check, "none", "air is unknown"), check.toString());
    assertFalse(says(check, "none", "mold"), check.toString());
    assertTrue(check.well(), "nobody said that there should be more");
  }

  @Test
  void aThermometerOfTheSettingsThatDoesNotAnswerIsAFault() {
    bench.oneWire().behave(SimulatedBench.MOLD_ID, Behavior.UNPLUGGED);
    WiringCheck check = check("mold.sensor=" + SimulatedBench.MOLD_ID);
    assertFalse(check.well());
    assertTrue(says(check, "fault", "does not answer"), check.toString());
    assertTrue(says(check, "missing", SimulatedBench.MOLD_ID), check.toString());
    assertFalse(says(check, "found", SimulatedBench.MOLD_ID), check.toString());
  }

  @Test
  void twoThermometersWithoutNamesAreAskedAboutWithTheLinesToPaste() {
    WiringCheck check = check("alarm.place=work-room");
    assertFalse(check.well());
    for (String id : List.of(SimulatedBench.MOLD_ID, SimulatedBench.RESIN_ID)) {
      assertTrue(says(check, "reads", "thermometer " + id + ": 1"), check.toString());
      assertTrue(says(check, "paste", "mold.sensor=" + id), check.toString());
      assertTrue(says(check, "paste", "resin.sensor=" + id), check.toString());
    }
  }

  @Test
  void aWholeBusThatIsSilentIsGuessedAtAndOneMissingChipIsNot() {
    bench.i2c().unplug(SimulatedBench.AIR_ADDRESS);
    assertFalse(says(check(), "guess", ""));
    bench.i2c().unplug(SimulatedBench.VOC_ADDRESS);
    assertTrue(says(check(), "guess", "SDA"));
  }

  @Test
  void aComputerThatIsNoPiIsSaidToBeNone(@TempDir Path root) throws IOException {
    ServiceAccess access = new ServiceAccess(root);
    assertTrue(access.notAPi().orElseThrow().contains("not a Raspberry Pi"));
    Files.createDirectories(root.resolve("proc/device-tree"));
    Files.writeString(root.resolve("proc/device-tree/model"), "Raspberry Pi 3 Model B Rev 1.2");
    assertTrue(access.notAPi().isEmpty());
  }

  @Test
  void whatTheServicesUserMayNotOpenIsTold(@TempDir Path root) throws IOException {
    ServiceAccess access = new ServiceAccess(root);
    assertEquals(List.of(), access.faults(List.of(1), true), "what is not there is told elsewhere");
    Path bus = Files.createDirectories(root.resolve("dev")).resolve("i2c-1");
    Files.createFile(bus);
    Files.setPosixFilePermissions(bus, PosixFilePermissions.fromString("rw-rw----"));
    assertEquals(List.of(), access.faults(List.of(1), true), "no service is installed");
    Files.createDirectories(root.resolve("etc"));
    Files.writeString(root.resolve("etc/passwd"), "layroom-device:x:990:990::/:/bin/false\n");
    String fault = access.faults(List.of(1), true).get(0);
    assertTrue(fault.startsWith("fault") && fault.contains("/dev/i2c-1"), fault);
    Files.setPosixFilePermissions(bus, PosixFilePermissions.fromString("rw-rw-rw-"));
    assertEquals(List.of(), access.faults(List.of(1), true));
  }

  @Test
  void withNothingWiredItSaysWhereToLook() {
    bench.i2c().unplug(SimulatedBench.AIR_ADDRESS);
    bench.i2c().unplug(SimulatedBench.VOC_ADDRESS);
    bench.oneWire().behave(SimulatedBench.MOLD_ID, Behavior.UNPLUGGED);
    bench.oneWire().behave(SimulatedBench.RESIN_ID, Behavior.UNPLUGGED);
    WiringCheck check = check("infrared.mold=mold");
    assertFalse(check.well());
    assertTrue(says(check, "fault", "raspi-config"), check.toString());
    assertTrue(says(check, "guess", "SDA and SCL may be swapped"), check.toString());
    assertEquals(3, check.lines().stream().filter(line -> line.startsWith("none")).count());
  }
}
