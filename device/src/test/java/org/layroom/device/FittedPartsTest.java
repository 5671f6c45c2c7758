package org.layroom.device;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Properties;
import org.junit.jupiter.api.Test;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cBus;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.chip.Bme280;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.KnownCleanAir;
import org.layroom.device.sampling.Sampled;
import org.layroom.device.sampling.Sampler;
import org.layroom.device.simulated.RoomTruth;
import org.layroom.device.simulated.SimulatedBench;
import org.layroom.device.simulated.SimulatedBme280;
import org.layroom.device.simulated.SimulatedOneWire.Behavior;
import org.layroom.device.telemetry.Reading;

/** What is found on the wires at the start and later, and who speaks for what. */
class FittedPartsTest {
  private final SteppedPace pace = new SteppedPace(Instant.parse("2026-03-14T19:00:00Z"));
  private final SimulatedBench bench =
      new SimulatedBench(() -> new RoomTruth(20, 50, 18, 17, 101_325, 31_000), () -> pace.uptime());
  private final List<Sampled> samples = new ArrayList<>();

  private Sampler sampler(String... settings) {
    return sampler(bench.i2c(), settings);
  }

  private Sampler sampler(I2cBus bus, String... settings) {
    Properties properties = new Properties();
    for (String setting : settings) {
      String[] both = setting.split("=", 2);
      properties.setProperty(both[0], both[1]);
    }
    DeviceConfig config = DeviceConfig.of(properties);
    FittedParts parts =
        new FittedParts(bus, bench.oneWire(), pace, config, new KnownCleanAir(config.cleanAir()));
    return new Sampler(pace, parts, samples::add);
  }

  private Sampled sample(Sampler sampler) {
    sampler.sampleOnce();
    return samples.get(samples.size() - 1);
  }

  private static List<String> names(Sampled sampled) {
    return sampled.readings().stream().map(Reading::name).sorted().toList();
  }

  private void fitBme280() {
    bench
        .i2c()
        .fit(
            Bme280.ADDRESS_SDO_LOW,
            new SimulatedBme280(() -> new RoomTruth(21, 40, 18, 17, 101_325, 31_000)));
  }

  @Test
  void withBothAirSensorsTheBetterOneSpeaksForTheAirAndTheOtherForThePressure() {
    fitBme280();
    assertEquals(
        List.of(
            "humidity",
            "mold-temperature",
            "pressure",
            "resin-temperature",
            "temperature",
            "voc-raw"),
        names(sample(sampler())));
  }

  /** A plug that was loose at the start and is pushed in later. */
  @Test
  void anAirSensorThatAppearsLaterTakesOverAndTheAirIsNeverToldTwice() {
    fitBme280();
    bench.i2c().unplug(SimulatedBench.AIR_ADDRESS);
    Sampler sampler = sampler();
    assertEquals(21, value(sample(sampler), "temperature"), 0.02);
    bench.i2c().plugIn(SimulatedBench.AIR_ADDRESS);
    pace.advanceBy(Duration.ofMinutes(1));
    Sampled later = sample(sampler);
    assertEquals(1, names(later).stream().filter("temperature"::equals).count());
    assertEquals(1, names(later).stream().filter("pressure"::equals).count());
    assertEquals(20, value(later, "temperature"), 0.01);
  }

  private static double value(Sampled sampled, String name) {
    return sampled.readings().stream()
        .filter(r -> r.name().equals(name))
        .findFirst()
        .orElseThrow()
        .value()
        .orElseThrow();
  }

  @Test
  void aChipThatWasFoundAndIsGoneIsAFaultAndIsNotForgotten() {
    Sampler sampler = sampler();
    assertEquals(List.of(), sample(sampler).faults());
    bench.i2c().unplug(SimulatedBench.AIR_ADDRESS);
    bench.oneWire().behave(SimulatedBench.MOLD_ID, Behavior.UNPLUGGED);
    pace.advanceBy(Duration.ofMinutes(5));
    assertEquals(2, sample(sampler).faults().size());
  }

  @Test
  void thermometersHaveTheRolesOfTheSettings() {
    Sampled swapped =
        sample(
            sampler(
                "mold.hatch.sensor=" + SimulatedBench.RESIN_ID,
                "resin.sensor=" + SimulatedBench.MOLD_ID));
    assertEquals(17, value(swapped, "mold-temperature/hatch"), 0.07);
    assertEquals(18, value(swapped, "resin-temperature"), 0.07);
  }

  @Test
  void withOnlyTheCansThermometerNamedTheOtherIsOnTheMold() {
    for (String can : List.of(SimulatedBench.MOLD_ID, SimulatedBench.RESIN_ID)) {
      Sampled sampled = sample(sampler("resin.sensor=" + can));
      boolean swapped = can.equals(SimulatedBench.MOLD_ID);
      assertEquals(swapped ? 18 : 17, value(sampled, "resin-temperature"), 0.07);
      assertEquals(swapped ? 17 : 18, value(sampled, "mold-temperature"), 0.07);
    }
  }

  /** What is named in the settings and does not answer at the start is missed, not passed over. */
  @Test
  void aThermometerOfTheSettingsThatIsMissingAtTheStartIsAFault() {
    bench.oneWire().behave(SimulatedBench.MOLD_ID, Behavior.UNPLUGGED);
    Sampler sampler = sampler("mold.sensor=" + SimulatedBench.MOLD_ID);
    assertTrue(
        sample(sampler).faults().stream().anyMatch(f -> f.part().contains("mold-temperature")));
    bench.oneWire().behave(SimulatedBench.MOLD_ID, Behavior.WORKS);
    pace.advanceBy(Duration.ofSeconds(10));
    assertEquals(18, value(sample(sampler), "mold-temperature"), 0.07);
  }

  @Test
  void aBusThatCannotBeOpenedIsToldOfAndTheThermometersStillWork() {
    I2cBus closed =
        new I2cBus() {
          @Override
          public I2cDevice device(int address) throws BusFault {
            throw new BusFault("I2C bus 1 cannot be opened: switch I2C on with raspi-config");
          }

          @Override
          public void close() {}
        };
    Sampled sampled = sample(sampler(closed));
    assertEquals(List.of("mold-temperature", "resin-temperature"), names(sampled));
    assertTrue(
        sampled.faults().stream().anyMatch(f -> f.reason().contains("raspi-config")),
        sampled.faults().toString());
  }

  @Test
  void withNothingPluggedInItSaysWhatToCheck() {
    bench.i2c().unplug(SimulatedBench.AIR_ADDRESS);
    bench.i2c().unplug(SimulatedBench.VOC_ADDRESS);
    bench.oneWire().behave(SimulatedBench.MOLD_ID, Behavior.UNPLUGGED);
    bench.oneWire().behave(SimulatedBench.RESIN_ID, Behavior.UNPLUGGED);
    assertTrue(sample(sampler()).faults().get(0).reason().contains("raspi-config"));
  }
}
