package org.layroom.device.sampling;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/**
 * Sensors compared with each other. The limits are this project's own choice; that a box warms the
 * sensor on it is common practice, no source.
 */
class CrosscheckTest {
  private final Crosscheck crosscheck = new Crosscheck();

  private List<Reading> judged(Duration at, double air, double mold, double infrared) {
    return crosscheck.judge(readings(air, 50, mold, infrared), new SamplingRound(at));
  }

  private static List<Reading> readings(double air, double humidity, double mold, double infrared) {
    return List.of(
        Reading.of(Series.TEMPERATURE, Series.CELSIUS, air),
        Reading.of(Series.HUMIDITY, Series.RELATIVE_HUMIDITY, humidity),
        Reading.of(Series.MOLD_TEMPERATURE, Series.CELSIUS, mold),
        Reading.of(Crosscheck.INFRARED, Series.CELSIUS, infrared));
  }

  private static Quality quality(List<Reading> readings, String name) {
    return readings.stream().filter(r -> r.name().equals(name)).findFirst().orElseThrow().quality();
  }

  @Test
  void airWarmerThanAMoldAtRestIsDoubtedAndKept() {
    List<Reading> last = List.of();
    for (int minute = 0; minute < 180; minute++) {
      last = judged(Duration.ofMinutes(minute), 22.5, 18 + 0.1 * (minute % 2), 18);
      assertTrue(quality(last, Series.TEMPERATURE).isGood(), "after " + minute + " min");
    }
    last = judged(Duration.ofHours(3), 22.5, 18, 18);
    assertTrue(
        quality(last, Series.TEMPERATURE)
            .words()
            .contains("warmer than the mold when both are at rest"),
        last.toString());
    assertEquals(22.5, last.get(0).value().orElseThrow());
    assertTrue(quality(last, Series.MOLD_TEMPERATURE).isGood());
  }

  @Test
  void aRoomBeingHeatedIsNotTakenForAWarmBox() {
    for (int minute = 0; minute < 600; minute++) {
      List<Reading> heated =
          judged(Duration.ofMinutes(minute), 18 + 0.02 * minute, 12 + 0.02 * minute, 12);
      assertTrue(quality(heated, Series.TEMPERATURE).isGood(), "after " + minute + " min");
    }
  }

  @Test
  void aMoldThatIsWarmerThanTheAirIsNothingOdd() {
    for (int minute = 0; minute < 600; minute++) {
      List<Reading> warmMold = judged(Duration.ofMinutes(minute), 18, 25, 25);
      assertTrue(quality(warmMold, Series.TEMPERATURE).isGood(), "after " + minute + " min");
    }
  }

  @Test
  void twoAirSensorsThatDisagreeForLongAreToldOf() {
    for (int minute = 0; minute <= 20; minute++) {
      SamplingRound round = new SamplingRound(Duration.ofMinutes(minute));
      round.foundBeside(23.5, 62);
      List<Reading> judged = crosscheck.judge(readings(20, 50, 20, 20), round);
      boolean doubted = minute >= 10;
      assertEquals(
          !doubted, quality(judged, Series.TEMPERATURE).isGood(), "after " + minute + " min");
      assertEquals(!doubted, quality(judged, Series.HUMIDITY).isGood());
      assertTrue(
          !doubted || quality(judged, Series.TEMPERATURE).words().contains("BME280"),
          judged.toString());
    }
    SamplingRound agreed = new SamplingRound(Duration.ofMinutes(21));
    agreed.foundBeside(20.5, 52);
    assertTrue(
        quality(crosscheck.judge(readings(20, 50, 20, 20), agreed), Series.TEMPERATURE).isGood());
  }

  @Test
  void aSurfaceThermometerThatLooksPastTheMoldIsDoubtedAndTheTapedOneIsNot() {
    List<Reading> last = List.of();
    for (int minute = 0; minute <= 10; minute++) {
      last = judged(Duration.ofMinutes(minute), 20, 19, 25);
    }
    assertTrue(quality(last, Crosscheck.INFRARED).words().contains("on the mold"), last.toString());
    assertTrue(quality(last, Series.MOLD_TEMPERATURE).isGood());
  }

  @Test
  void whatIsDoubtedAlreadyKeepsItsReason() {
    Reading jumped =
        Reading.of(Series.TEMPERATURE, Series.CELSIUS, 20, Quality.suspect("jumped by 6.0 degC"));
    for (int minute = 0; minute <= 10; minute++) {
      SamplingRound round = new SamplingRound(Duration.ofMinutes(minute));
      round.foundBeside(26, 50);
      assertEquals(List.of(jumped), crosscheck.judge(List.of(jumped), round));
    }
  }

  /** By hand: 20.0 with an offset of -0.4 is 19.6; 99.5 % with +2 % cannot be more than 100 %. */
  @Test
  void anOffsetIsAddedAndHumidityStaysInItsRange() {
    Offset air = new Offset(-0.4, LocalDate.of(2026, 3, 1));
    Offset damp = new Offset(2, LocalDate.of(2026, 3, 1));
    Sensor sensor =
        CorrectedSensor.of(
            new FixedPart(readings(20, 99.5, 18, 18)),
            new CurrentOffsets(
                Map.of(Series.TEMPERATURE, air, Series.HUMIDITY, damp, "other", air)),
            Optional.empty());
    List<Reading> corrected = sensor.read(new SamplingRound(Duration.ZERO)).readings();
    assertEquals(19.6, corrected.get(0).value().orElseThrow(), 1e-12);
    assertEquals(100, corrected.get(1).value().orElseThrow());
    assertEquals(18, corrected.get(2).value().orElseThrow());
    assertEquals("-0.40 of 2026-03-01", air.words());
  }

  private record FixedPart(List<Reading> fixed) implements Sensor {
    @Override
    public String name() {
      return "fixed";
    }

    @Override
    public List<SeriesName> series() {
      return fixed.stream().map(one -> new SeriesName(one.name(), one.unit())).toList();
    }

    @Override
    public Outcome read(SamplingRound round) {
      return Outcome.of(fixed);
    }
  }
}
