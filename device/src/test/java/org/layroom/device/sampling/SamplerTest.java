package org.layroom.device.sampling;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.device.chip.Ds18b20;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.chip.Sht4x;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.simulated.RoomTruth;
import org.layroom.device.simulated.SimulatedBench;
import org.layroom.device.simulated.SimulatedOneWire.Behavior;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;

/** What the sampler says of values that a shop should not believe. */
class SamplerTest {
  private final SteppedPace pace = new SteppedPace(Instant.parse("2026-03-14T19:00:00Z"));
  private double airC = 20;
  private double moldC = 18;
  private double raw = 31_000;
  private final SimulatedBench bench =
      new SimulatedBench(() -> new RoomTruth(airC, 50, moldC, 18, 101_325, raw), pace::uptime);
  private final List<Sensor> sensors =
      new ArrayList<>(
          List.of(
              AirSensor.sht4x(
                  new Sht4x(bench.i2c().device(SimulatedBench.AIR_ADDRESS), pace),
                  ValueOrigin.LIVE),
              ThermometerSensor.mold(
                  new Ds18b20(bench.oneWire(), SimulatedBench.MOLD_ID), ValueOrigin.LIVE),
              new VocSensor(
                  new Sgp40(bench.i2c().device(SimulatedBench.VOC_ADDRESS), pace),
                  ValueOrigin.LIVE)));
  private Optional<Sample> last = Optional.empty();
  private final Sampler sampler = new Sampler(pace, () -> sensors, s -> last = Optional.of(s));

  private Sample sample() {
    pace.advanceBy(Duration.ofSeconds(10));
    raw += 1;
    airC += 0.003;
    sampler.sampleOnce();
    return last.orElseThrow();
  }

  private Sample sampleFor(Duration time) {
    for (long i = time.toSeconds() / 10; i > 1; i--) {
      sample();
    }
    return sample();
  }

  private static Reading reading(Sample sampled, String name) {
    return sampled.readings().stream().filter(r -> r.name().equals(name)).findFirst().orElseThrow();
  }

  private static String words(Sample sampled, String name) {
    return reading(sampled, name).quality().words();
  }

  /** fumes: discard 60 s after power-on, settling for 1 h (this project's choice). */
  @Test
  void theVaporSensorIsDiscardedForAMinuteAndSettlesForAnHour() {
    assertInstanceOf(Quality.Fault.class, reading(sample(), "voc-raw").quality());
    assertEquals(List.of(), last.orElseThrow().faults(), "warming up is no fault of the part");
    assertTrue(words(sampleFor(Duration.ofSeconds(70)), "voc-raw").contains("settling"));
    assertEquals("good", words(sampleFor(Duration.ofHours(1)), "voc-raw"));
  }

  @Test
  void oneFailingChipNeverStopsTheOthers() {
    sample();
    bench.i2c().unplug(SimulatedBench.AIR_ADDRESS);
    bench.oneWire().behave(SimulatedBench.MOLD_ID, Behavior.BAD_CRC);
    Sample sampled = sampleFor(Duration.ofSeconds(70));
    assertTrue(words(sampled, "temperature").startsWith("fault: no answer"));
    assertTrue(words(sampled, "humidity").startsWith("fault"));
    assertTrue(words(sampled, "mold-temperature").contains("CRC"));
    assertTrue(words(sampled, "voc-raw").contains("not corrected"), words(sampled, "voc-raw"));
    assertTrue(reading(sampled, "voc-raw").value().isPresent(), "a doubtful value is kept");
    assertEquals(2, sampled.faults().size());
    bench.i2c().plugIn(SimulatedBench.AIR_ADDRESS);
    assertEquals("good", words(sample(), "temperature"));
  }

  @Test
  void aDriverThatThrowsIsAFaultOfItsPartAlone() {
    sensors.add(
        0,
        new Sensor() {
          @Override
          public String name() {
            return "broken driver";
          }

          @Override
          public List<SeriesName> series() {
            return List.of(new SeriesName("pressure", "Pa"));
          }

          @Override
          public Outcome read(SamplingRound round) {
            throw new IllegalStateException("on purpose");
          }
        });
    Sample sampled = sample();
    assertTrue(words(sampled, "pressure").startsWith("fault"));
    assertEquals("good", words(sampled, "temperature"));
  }

  @Test
  void anAirTemperatureThatJumpsIsSuspectOnce() {
    sample();
    airC += 8;
    assertTrue(words(sample(), "temperature").contains("jumped"));
    assertEquals("good", words(sample(), "temperature"));
  }

  @Test
  void aValueThatStandsStillTooLongIsStuck() {
    sample();
    for (int i = 0; i < 370; i++) {
      airC = 20;
      raw = 31_000;
      pace.advanceBy(Duration.ofSeconds(10));
      sampler.sampleOnce();
    }
    Sample sampled = last.orElseThrow();
    assertTrue(words(sampled, "temperature").contains("stuck"));
    assertTrue(words(sampled, "voc-raw").contains("stuck"));
    assertEquals("good", words(sampled, "mold-temperature"), "steps of 1/16 may stand still");
  }

  @Test
  void towardCleanAHugeStepIsDoubtedTowardVaporNever() {
    sampleFor(Duration.ofHours(2));
    raw = 20_000;
    assertEquals("good", words(sample(), "voc-raw"));
    raw = 0;
    pace.advanceBy(Duration.ofSeconds(10));
    sampler.sampleOnce();
    assertTrue(words(last.orElseThrow(), "voc-raw").contains("at least"));
    assertTrue(reading(last.orElseThrow(), "voc-raw").value().isPresent());
    raw = 30_000;
    assertTrue(words(sample(), "voc-raw").contains("toward clean"));
    raw = 65_535;
    pace.advanceBy(Duration.ofSeconds(10));
    sampler.sampleOnce();
    assertTrue(words(last.orElseThrow(), "voc-raw").contains("clean end"));
  }

  @Test
  void severalMoldsHaveTheirOwnNames() {
    Sensor fender =
        ThermometerSensor.mold(
            "fender", new Ds18b20(bench.oneWire(), SimulatedBench.MOLD_ID), ValueOrigin.LIVE);
    assertEquals("mold-temperature/fender", fender.series().get(0).name());
  }
}
