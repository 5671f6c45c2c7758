package org.layroom.device.fitting;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Properties;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.CurrentCleanAir;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.sampling.Sample;
import org.layroom.device.sampling.Sampler;
import org.layroom.device.sampling.SamplingRound;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.simulated.RoomTruth;
import org.layroom.device.simulated.SimulatedBench;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/**
 * A new chip is one entry of the catalog: a made-up one is found, read and ranked like the rest.
 */
class ChipCatalogTest {
  private static final int ADDRESS = 0x62;
  private static final String SERIES = "light";

  private final SteppedPace pace = new SteppedPace(Instant.parse("2026-03-14T19:00:00Z"));
  private final SimulatedBench bench =
      new SimulatedBench(() -> new RoomTruth(20, 50, 18, 17, 101_325, 31_000), () -> pace.uptime());
  private final List<Sample> samples = new ArrayList<>();

  /** A chip that answers each read with one byte, which is its value. */
  private record OneByteChip(byte value) implements I2cDevice {
    @Override
    public void write(byte... bytes) {}

    @Override
    public byte[] read(int count) {
      return new byte[] {value};
    }

    @Override
    public byte[] writeRead(byte[] bytes, int count) {
      return read(count);
    }
  }

  private record OneByteSensor(I2cDevice device) implements Sensor {
    @Override
    public String name() {
      return "made-up sensor";
    }

    @Override
    public List<SeriesName> series() {
      return List.of(new SeriesName(SERIES, "lx"));
    }

    @Override
    public Outcome read(SamplingRound round) {
      try {
        return new Outcome(List.of(Reading.of(SERIES, "lx", device.read(1)[0])), Optional.empty());
      } catch (BusFault e) {
        return failed(e.reason());
      }
    }

    boolean present() {
      try {
        return device.read(1).length == 1;
      } catch (BusFault e) {
        return false;
      }
    }
  }

  private static I2cChip madeUp() {
    return new I2cChip(
        "MADE-UP",
        List.of(SERIES),
        List.of(0x61, ADDRESS),
        (device, context) -> {
          OneByteSensor sensor = new OneByteSensor(device);
          return ChipCandidate.of(sensor::present, () -> sensor);
        });
  }

  private FittedSensors fitted(ChipCatalog catalog) {
    Properties named = new Properties();
    named.setProperty("mold.sensor", SimulatedBench.MOLD_ID);
    named.setProperty("resin.sensor", SimulatedBench.RESIN_ID);
    DeviceConfig config = DeviceConfig.of(named);
    CurrentOffsets offsets = new CurrentOffsets(Map.of());
    return new FittedSensors(
        catalog,
        new TreeMap<>(Map.of(1, bench.i2c())),
        new ChipContext(
            pace, config.chips(), new CurrentCleanAir(Optional.empty()), Optional.empty()),
        new FittedThermometers(bench.oneWire(), config, offsets, MoldMemory.forgetful()),
        offsets);
  }

  private List<String> sample(Sampler sampler) {
    sampler.sampleOnce();
    return samples.get(samples.size() - 1).readings().stream().map(Reading::name).toList();
  }

  @Test
  void theReadingsOfAMadeUpChipComeOutOfTheSampler() {
    bench.i2c().fit(ADDRESS, new OneByteChip((byte) 42));
    Sampler sampler =
        new Sampler(pace, fitted(ChipCatalog.standard().with(madeUp())), samples::add);
    assertEquals(
        List.of(
            "temperature", "humidity", "mold-temperature", "resin-temperature", "voc-raw", SERIES),
        sample(sampler));
    assertEquals(42, samples.get(0).readings().get(5).value().orElseThrow());
    assertEquals(List.of(), samples.get(0).faults());
  }

  @Test
  void aChipThatIsNotInTheCatalogIsNotLookedFor() {
    bench.i2c().fit(ADDRESS, new OneByteChip((byte) 42));
    Sampler sampler = new Sampler(pace, fitted(ChipCatalog.standard()), samples::add);
    assertFalse(sample(sampler).contains(SERIES));
  }

  @Test
  void aMadeUpChipThatGoesIsAFaultUnderItsOwnName() {
    bench.i2c().fit(ADDRESS, new OneByteChip((byte) 42));
    Sampler sampler =
        new Sampler(pace, fitted(ChipCatalog.standard().with(madeUp())), samples::add);
    sample(sampler);
    bench.i2c().unplug(ADDRESS);
    sample(sampler);
    assertEquals(
        List.of("made-up sensor"),
        samples.get(1).faults().stream().map(fault -> fault.part()).toList());
  }

  /** It is plugged in later; what it outranks has no lesser sensor and falls silent. */
  @Test
  void aMadeUpChipMayOutrankOneThatWasFoundBefore() {
    FittedSensors sensors = fitted(ChipCatalog.standard().with(madeUp().outranking("SHT4x")));
    Sampler sampler = new Sampler(pace, sensors, samples::add);
    assertTrue(sample(sampler).contains("temperature"));
    bench.i2c().fit(ADDRESS, new OneByteChip((byte) 42));
    pace.advanceBy(Duration.ofMinutes(1));
    assertEquals(
        List.of("mold-temperature", "resin-temperature", "voc-raw", SERIES), sample(sampler));
  }

  @Test
  void theCatalogSaysWhereASeriesIsLookedFor() {
    ChipCatalog catalog = ChipCatalog.standard().with(madeUp());
    assertEquals(
        "SHT4x at 0x44 to 0x46, BME280 at 0x76 or 0x77", catalog.givers(Series.TEMPERATURE));
    assertEquals("at 0x48 to 0x4b", catalog.where(Series.ISOBUTYLENE));
    assertEquals("MADE-UP at 0x61 or 0x62", catalog.givers(SERIES));
    assertEquals("", catalog.givers("no such series"));
  }

  @Test
  void twoKindsOfOneNameAreRefused() {
    assertThrows(
        IllegalArgumentException.class, () -> ChipCatalog.standard().with(madeUp()).with(madeUp()));
  }
}
