package org.layroom.device.sampling;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.device.chip.Ads1115;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.simulated.SimulatedAds1115;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/**
 * A PID module's voltage. The figures of the module are invented; 0.45 is the published factor from
 * isobutylene to styrene.
 */
class PidSensorTest {
  private final SteppedPace pace = new SteppedPace(Instant.EPOCH);
  private double volts = 0.05;
  private final Ads1115 chip =
      new Ads1115(new SimulatedAds1115(() -> volts, pace::uptime), pace, 0);
  private final PidCalibration calibration =
      new PidCalibration(0.05, 0.025, 2.5, 0.45, LocalDate.of(2026, 3, 1));
  private final PidSensor sensor = new PidSensor(chip, Optional.of(calibration));

  private List<Reading> read() {
    return sensor.read(new SamplingRound(pace.uptime())).readings();
  }

  private static Reading named(List<Reading> readings, String name) {
    return readings.stream().filter(r -> r.name().equals(name)).findFirst().orElseThrow();
  }

  /** By hand: (1.05 - 0.05) / 0.025 = 40 ppm isobutylene, x 0.45 = 18 ppm as styrene. */
  @Test
  void zeroSpanAndFactorMakePpmOfVolts() {
    volts = 1.05;
    List<Reading> readings = read();
    assertEquals(40e-6, named(readings, Series.ISOBUTYLENE).value().orElseThrow(), 0.01e-6);
    assertEquals(18e-6, named(readings, Series.STYRENE_ESTIMATE).value().orElseThrow(), 0.01e-6);
    assertEquals(1.05, named(readings, Series.PID_VOLTAGE).value().orElseThrow(), 1e-4);
  }

  @Test
  void withoutACalibrationThereIsNoPpm() {
    PidSensor uncalibrated = new PidSensor(chip, Optional.empty());
    List<Reading> readings = uncalibrated.read(new SamplingRound(Duration.ZERO)).readings();
    assertEquals(List.of(Series.PID_VOLTAGE), readings.stream().map(Reading::name).toList());
  }

  @Test
  void aVoltageBelowItsZeroIsADeadLampAndNotCleanAir() {
    volts = -0.01;
    Sensor.Outcome outcome = sensor.read(new SamplingRound(Duration.ZERO));
    assertTrue(outcome.fault().orElseThrow().contains("below its zero"), outcome.toString());
    assertTrue(outcome.readings().stream().allMatch(r -> r.value().isEmpty()));
    volts = 0.04;
    assertEquals(0, named(read(), Series.ISOBUTYLENE).value().orElseThrow(), "a little drift");
  }

  @Test
  void atItsEndThePpmAreAtLeastThatMuch() {
    volts = 2.6;
    List<Reading> readings = read();
    assertTrue(
        named(readings, Series.PID_VOLTAGE).quality().words().contains(AirEvents.AT_END),
        readings.toString());
    assertTrue(named(readings, Series.STYRENE_ESTIMATE).quality().isGood());
  }

  @Test
  void aVoltageThatNeverMovesIsDoubted() {
    for (int i = 0; i < 70; i++) {
      read();
      pace.advanceBy(Duration.ofSeconds(10));
    }
    assertFalse(named(read(), Series.ISOBUTYLENE).quality().isGood());
  }

  @Test
  void aCalibrationThatCannotBeIsRefused() {
    LocalDate day = LocalDate.of(2026, 3, 1);
    assertThrows(IllegalArgumentException.class, () -> new PidCalibration(0.05, 0, 2.5, 0.45, day));
    assertThrows(
        IllegalArgumentException.class, () -> new PidCalibration(0.05, 0.025, 0.04, 0.45, day));
    assertThrows(
        IllegalArgumentException.class, () -> new PidCalibration(0.05, 0.025, 2.5, 0, day));
  }
}
