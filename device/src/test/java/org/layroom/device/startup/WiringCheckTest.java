package org.layroom.device.startup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.Properties;
import org.junit.jupiter.api.Test;
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
    assertTrue(says(check, "reads", "temperature: 20.00 degC"), check.toString());
    assertTrue(says(check, "reads", "mold-temperature: 18.00 degC"), check.toString());
    assertTrue(says(check, "reads", "voc-raw: no value (fault: warming up"), check.toString());
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
  }

  @Test
  void withNothingWiredItSaysWhereToLook() {
    bench.i2c().unplug(SimulatedBench.AIR_ADDRESS);
    bench.i2c().unplug(SimulatedBench.VOC_ADDRESS);
    bench.oneWire().behave(SimulatedBench.MOLD_ID, Behavior.UNPLUGGED);
    bench.oneWire().behave(SimulatedBench.RESIN_ID, Behavior.UNPLUGGED);
    WiringCheck check = check();
    assertFalse(check.well());
    assertTrue(says(check, "fault", "raspi-config"), check.toString());
    assertEquals(3, check.lines().stream().filter(line -> line.startsWith("none")).count());
  }
}
