package org.layroom.device.fitting;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Properties;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cBus;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.chip.Bme280;
import org.layroom.device.chip.Mlx90614;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.chip.Sht4x;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.CurrentCleanAir;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.sampling.Sample;
import org.layroom.device.sampling.Sampler;
import org.layroom.device.simulated.RoomTruth;
import org.layroom.device.simulated.SimulatedAds1115;
import org.layroom.device.simulated.SimulatedBench;
import org.layroom.device.simulated.SimulatedBme280;
import org.layroom.device.simulated.SimulatedI2cBus;
import org.layroom.device.simulated.SimulatedMlx90614;
import org.layroom.device.simulated.SimulatedOneWire.Behavior;
import org.layroom.device.simulated.SimulatedSgp40;
import org.layroom.device.simulated.SimulatedSht4x;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.layroom.device.telemetry.Reading;

/** What is found on the wires at the start and later, and who speaks for what. */
class FittedSensorsTest {
  private final SteppedPace pace = new SteppedPace(Instant.parse("2026-03-14T19:00:00Z"));
  private final SimulatedBench bench =
      new SimulatedBench(() -> new RoomTruth(20, 50, 18, 17, 101_325, 31_000), () -> pace.uptime());
  private final List<Sample> samples = new ArrayList<>();

  private Sampler sampler(String... settings) {
    return sampler(bench.i2c(), settings);
  }

  private Sampler sampler(I2cBus bus, String... settings) {
    Properties properties = new Properties();
    if (Stream.of(settings).noneMatch(one -> one.matches("(mold|resin|infrared\\.mold).*"))) {
      properties.setProperty("mold.sensor", SimulatedBench.MOLD_ID);
      properties.setProperty("resin.sensor", SimulatedBench.RESIN_ID);
    }
    for (String setting : settings) {
      String[] both = setting.split("=", 2);
      properties.setProperty(both[0], both[1]);
    }
    DeviceConfig config = DeviceConfig.of(properties);
    FittedSensors sensors =
        new FittedSensors(
            bus, bench.oneWire(), pace, config, new CurrentCleanAir(config.cleanAir()));
    return new Sampler(pace, sensors, samples::add);
  }

  private Sample sample(Sampler sampler) {
    sampler.sampleOnce();
    return samples.get(samples.size() - 1);
  }

  private static List<String> names(Sample sampled) {
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
    Sample later = sample(sampler);
    assertEquals(1, names(later).stream().filter("temperature"::equals).count());
    assertEquals(1, names(later).stream().filter("pressure"::equals).count());
    assertEquals(20, value(later, "temperature"), 0.01);
  }

  private static double value(Sample sampled, String name) {
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
    Sample swapped =
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
      Sample sampled = sample(sampler("resin.sensor=" + can));
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
  void ofTwoThermometersWithoutNamesNoneHasARole() {
    Sample sampled = sample(unnamed(MoldMemory.forgetful()));
    assertTrue(names(sampled).stream().noneMatch(n -> n.contains("mold") || n.contains("resin")));
    assertEquals(
        List.of("thermometer " + SimulatedBench.MOLD_ID, "thermometer " + SimulatedBench.RESIN_ID),
        sampled.faults().stream().map(PartFault::part).toList());
    assertTrue(
        sampled.faults().get(0).reason().contains("mold.sensor=" + SimulatedBench.MOLD_ID),
        "what to write: " + sampled.faults());
  }

  /** The mold's thermometer is missing at a later start, and the can's is there. */
  @Test
  void aSingleThermometerIsOnTheMoldAndNoOtherIsEverTakenForIt() {
    MoldMemory memory = MoldMemory.forgetful();
    bench.oneWire().behave(SimulatedBench.RESIN_ID, Behavior.UNPLUGGED);
    assertEquals(18, value(sample(unnamed(memory)), "mold-temperature"), 0.07);
    bench.oneWire().behave(SimulatedBench.RESIN_ID, Behavior.WORKS);
    bench.oneWire().behave(SimulatedBench.MOLD_ID, Behavior.UNPLUGGED);
    Sample later = sample(unnamed(memory));
    assertTrue(
        later.faults().stream().anyMatch(f -> f.part().contains("mold-temperature")),
        "" + later.faults());
    assertTrue(
        later.readings().stream()
            .filter(r -> r.name().equals("mold-temperature"))
            .allMatch(r -> r.value().isEmpty()),
        "the can's 17 degC are not the mold's");
    assertTrue(later.faults().stream().anyMatch(f -> f.part().endsWith(SimulatedBench.RESIN_ID)));
  }

  private Sampler unnamed(MoldMemory memory) {
    DeviceConfig config = DeviceConfig.of(new Properties());
    return new Sampler(
        pace,
        new FittedSensors(
            new TreeMap<>(Map.of(1, bench.i2c())),
            bench.oneWire(),
            pace,
            config,
            new CurrentCleanAir(Optional.empty()),
            new CurrentOffsets(Map.of()),
            memory),
        samples::add);
  }

  @Test
  void oneThermometerInTwoPlacesIsRefused() {
    IllegalArgumentException refusal =
        assertThrows(
            IllegalArgumentException.class,
            () -> sampler("mold.hatch.sensor=28-0316a279f1ff", "resin.sensor=28-0316a279f1ff"));
    String message = String.valueOf(refusal.getMessage());
    assertTrue(message.contains("mold.hatch.sensor") && message.contains("resin.sensor"), message);
  }

  @Test
  void whenTheBetterAirSensorDiesTheOtherSpeaksForTheAir() {
    fitBme280();
    Sampler sampler = sampler("offset.temperature=-0.5", "offset.temperature.date=2026-03-01");
    assertEquals(19.5, value(sample(sampler), "temperature"), 0.01);
    bench.i2c().unplug(SimulatedBench.AIR_ADDRESS);
    pace.advanceBy(Duration.ofSeconds(10));
    Sample later = sample(sampler);
    assertEquals(21, value(later, "temperature"), 0.02, "the offset was taken for the other chip");
    assertEquals(40, value(later, "humidity"), 0.1);
    assertEquals(1, names(later).stream().filter("temperature"::equals).count());
    assertEquals(1, names(later).stream().filter("pressure"::equals).count());
    assertTrue(later.faults().stream().anyMatch(f -> f.part().contains("SHT4x")), "and it is told");
    assertTrue(
        later.readings().stream()
            .filter(r -> r.name().equals("voc-raw"))
            .noneMatch(r -> r.quality().words().contains("not corrected")));
  }

  @Test
  void aSecondChipOfAKindIsTold() {
    RoomTruth truth = new RoomTruth(20, 50, 18, 17, 101_325, 31_000);
    bench.i2c().fit(Sht4x.ADDRESS_C, new SimulatedSht4x(() -> truth, pace::uptime));
    Sample sampled = sample(sampler());
    assertEquals(1, names(sampled).stream().filter("temperature"::equals).count());
    assertEquals(
        List.of("second SHT4x at I2C address 0x46 on bus 1"),
        sampled.faults().stream().map(PartFault::part).toList());
  }

  @Test
  void chipsAreLookedForOnEveryBusThatTheSettingsName() {
    RoomTruth truth = new RoomTruth(20, 50, 18, 17, 101_325, 31_000);
    SimulatedI2cBus third = new SimulatedI2cBus();
    third.fit(Sht4x.ADDRESS_B, new SimulatedSht4x(() -> truth, pace::uptime));
    third.fit(Sgp40.ADDRESS, new SimulatedSgp40(() -> truth, pace::uptime));
    DeviceConfig config = DeviceConfig.of(new Properties());
    FittedSensors fitted =
        new FittedSensors(
            new TreeMap<>(Map.of(1, new SimulatedI2cBus(), 3, third)),
            bench.oneWire(),
            pace,
            config,
            new CurrentCleanAir(Optional.empty()),
            new CurrentOffsets(Map.of()),
            MoldMemory.forgetful());
    assertEquals(
        List.of("at I2C address 0x45 on bus 3", "at I2C address 0x59 on bus 3"),
        fitted.get().stream().map(fitted::place).filter(place -> !place.isEmpty()).toList());
    Properties wrong = new Properties();
    wrong.setProperty("i2c.buses", "one");
    assertThrows(IllegalArgumentException.class, () -> DeviceConfig.of(wrong));
  }

  /** BMP280 data sheet, register "id": 0x58 (from memory). */
  @Test
  void aBmp280IsNamed() {
    bench.i2c().fit(Bme280.ADDRESS_SDO_LOW, new Registers((byte) 0x58));
    Sample sampled = sample(sampler());
    assertTrue(
        sampled.faults().stream()
            .anyMatch(f -> f.part().contains("0x76") && f.reason().contains("BMP280")),
        "" + sampled.faults());
  }

  /** SGP41: the self test of the SGP40, and no answer to its command 0x260F (from memory). */
  @Test
  void anSgp41IsNamedAndNotTakenForAnSgp40() {
    RoomTruth truth = new RoomTruth(20, 50, 18, 17, 101_325, 31_000);
    SimulatedSgp40 like = new SimulatedSgp40(() -> truth, pace::uptime);
    bench
        .i2c()
        .fit(
            Sgp40.ADDRESS,
            new I2cDevice() {
              @Override
              public void write(byte... bytes) throws BusFault {
                if (bytes[0] == 0x26) {
                  throw new BusFault("not acknowledged");
                }
                like.write(bytes);
              }

              @Override
              public byte[] read(int count) throws BusFault {
                return like.read(count);
              }

              @Override
              public byte[] writeRead(byte[] bytes, int count) throws BusFault {
                write(bytes);
                return read(count);
              }
            });
    Sample sampled = sample(sampler());
    assertFalse(names(sampled).contains("voc-raw"));
    assertTrue(
        sampled.faults().stream().anyMatch(f -> f.reason().contains("SGP41")),
        "" + sampled.faults());
  }

  /** SHT3x data sheet, "status register": 0xF32D; 0xBEEF has the check byte 0x92. */
  @Test
  void anSht3xIsNamed() {
    bench.i2c().unplug(SimulatedBench.AIR_ADDRESS);
    bench.i2c().fit(Sht4x.ADDRESS_B, new Registers((byte) 0xBE, (byte) 0xEF, (byte) 0x92));
    Sample sampled = sample(sampler());
    assertTrue(
        sampled.faults().stream()
            .anyMatch(f -> f.part().contains("0x45") && f.reason().contains("SHT3x")),
        "" + sampled.faults());
  }

  /** Answers the same bytes to whatever is asked in two bytes or by a register. */
  private static final class Registers implements I2cDevice {
    private final byte[] answer;

    Registers(byte... answer) {
      this.answer = answer;
    }

    @Override
    public void write(byte... bytes) throws BusFault {
      if (bytes.length != 2) {
        throw new BusFault("not acknowledged");
      }
    }

    @Override
    public byte[] read(int count) {
      return Arrays.copyOf(answer, count);
    }

    @Override
    public byte[] writeRead(byte[] bytes, int count) {
      return read(count);
    }
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
    Sample sampled = sample(sampler(closed));
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
    assertTrue(
        sample(sampler("infrared.mold=mold")).faults().get(0).reason().contains("raspi-config"));
  }

  private void fitDetectorAndSurfaceThermometer() {
    bench.i2c().fit(0x49, new SimulatedAds1115(() -> 1.05, pace::uptime));
    bench.i2c().fit(Mlx90614.ADDRESS, new SimulatedMlx90614(() -> 24, () -> 20));
  }

  @Test
  void aDetectorAndASurfaceThermometerAreFoundAtTheirAddresses() {
    fitDetectorAndSurfaceThermometer();
    Sample sampled = sample(sampler("infrared.emissivity=1"));
    assertEquals(24, value(sampled, "mold-temperature/infrared"), 0.02);
    assertEquals(1.05, value(sampled, "pid-voltage"), 1e-4);
    assertTrue(names(sampled).stream().noneMatch("styrene-estimate"::equals), "not calibrated");
  }

  /** By hand: (1.05 - 0.05) V / 0.025 V per ppm = 40 ppm isobutylene, x 0.4 = 16 ppm as styrene. */
  @Test
  void withItsCalibrationTheDetectorTellsPpm() {
    fitDetectorAndSurfaceThermometer();
    Sample sampled =
        sample(
            sampler(
                "pid.zero-volts=0.05",
                "pid.volts-per-ppm=0.025",
                "pid.styrene-factor=0.4",
                "pid.calibrated=2026-03-01"));
    assertEquals(16e-6, value(sampled, "styrene-estimate"), 0.01e-6);
  }

  @Test
  void aSurfaceThermometerMaySpeakForTheOnlyMold() {
    fitDetectorAndSurfaceThermometer();
    Sample sampled =
        sample(sampler("infrared.mold=mold", "resin.sensor=" + SimulatedBench.RESIN_ID));
    assertEquals(24, value(sampled, "mold-temperature"), 0.3);
    assertEquals(1, names(sampled).stream().filter(n -> n.startsWith("mold-")).count());
  }

  @Test
  void newChipsAreMissedWhenTheyGoAndWelcomeWhenTheyComeBack() {
    fitDetectorAndSurfaceThermometer();
    Sampler sampler = sampler();
    sample(sampler);
    bench.i2c().unplug(0x49);
    bench.i2c().unplug(Mlx90614.ADDRESS);
    pace.advanceBy(Duration.ofSeconds(10));
    List<String> faults =
        sample(sampler).faults().stream()
            .map(fault -> fault.part() + " " + fault.reason())
            .toList();
    assertTrue(faults.stream().anyMatch(f -> f.contains("0x49")), faults.toString());
    assertTrue(faults.stream().anyMatch(f -> f.contains("0x5a")), faults.toString());
    bench.i2c().plugIn(0x49);
    bench.i2c().plugIn(Mlx90614.ADDRESS);
    pace.advanceBy(Duration.ofSeconds(10));
    assertEquals(List.of(), sample(sampler).faults());
  }

  @Test
  void offsetsCorrectTheSensorsThatTheyWereTakenFor() {
    Sample sampled =
        sample(
            sampler(
                "offset.temperature=-0.5",
                "offset.temperature.date=2026-03-01",
                "offset." + SimulatedBench.RESIN_ID + "=0.25",
                "offset." + SimulatedBench.RESIN_ID + ".date=2026-03-01"));
    assertEquals(19.5, value(sampled, "temperature"), 0.01);
    assertEquals(17.25, value(sampled, "resin-temperature"), 0.07);
    assertEquals(18, value(sampled, "mold-temperature"), 0.07);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "offset.temperature=-0.5",
        "offset.temperature=40;offset.temperature.date=2026-03-01",
        "offset.color=1;offset.color.date=2026-03-01",
        "pid.zero-volts=0.05",
        "pid.zero-volts=0.05;pid.volts-per-ppm=0.025;pid.calibrated=last week",
        "pid.input=7",
        "pid.limit=none",
        "infrared.emissivity=2",
        "infrared.mold=My Mold",
        "fan.relay=4"
      })
  void settingsThatCannotBeUsedAreRefusedByName(String settings) {
    IllegalArgumentException refusal =
        assertThrows(IllegalArgumentException.class, () -> sampler(settings.split(";")));
    assertTrue(
        settings.contains("My Mold")
            || String.valueOf(refusal.getMessage())
                .contains(settings.substring(0, settings.indexOf('.'))),
        refusal.toString());
  }
}
