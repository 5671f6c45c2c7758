package org.layroom.device.sampling;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.device.chip.Ads1115;
import org.layroom.device.chip.ChipRead;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/**
 * A photoionization detector behind an ADS1115. Without a calibration only its voltage is told;
 * never ppm. With one, its own reading as isobutylene, and about how much that were as styrene if
 * nothing else is in the air. A voltage below its zero is a dead lamp, not clean air.
 */
public final class PidSensor implements Sensor {
  private static final SeriesName VOLTAGE = new SeriesName(Series.PID_VOLTAGE, Series.VOLT);
  private static final SeriesName ISOBUTYLENE = new SeriesName(Series.ISOBUTYLENE, Series.RATIO);
  private static final SeriesName STYRENE = new SeriesName(Series.STYRENE_ESTIMATE, Series.RATIO);

  /** A live module's last digits are never still for this long (this project's choice). */
  private static final Duration STUCK = Duration.ofMinutes(10);

  /** How far below its zero a module may drift, as ppm of isobutylene, and in V at least. */
  private static final double DRIFT_PPM = 2;

  private static final double DRIFT_VOLTS = 0.005;
  private static final double MILLION = 1e6;

  private final Ads1115 chip;
  private final Optional<PidCalibration> calibration;
  private final SeriesCheck watch =
      new SeriesCheck(new SeriesCheck.Limits(-0.1, 4.09, Double.MAX_VALUE, STUCK, "V"));

  public PidSensor(Ads1115 chip, Optional<PidCalibration> calibration) {
    this.chip = chip;
    this.calibration = calibration;
  }

  @Override
  public String name() {
    return "vapor detector (PID) behind an ADS1115";
  }

  @Override
  public List<SeriesName> series() {
    return calibration.isPresent() ? List.of(VOLTAGE, ISOBUTYLENE, STYRENE) : List.of(VOLTAGE);
  }

  @Override
  public Outcome read(SamplingRound round) {
    ChipRead<Double> read = chip.read();
    if (read instanceof ChipRead.Failed<Double> failed) {
      return failed(failed.reason());
    }
    double volts = ((ChipRead.Value<Double>) read).value();
    Quality quality = watch.judge(volts, round.uptime());
    if (quality instanceof Quality.Fault fault) {
      return failed(fault.reason());
    }
    if (calibration.isEmpty()) {
      return Outcome.of(List.of(Reading.of(VOLTAGE.name(), VOLTAGE.unit(), volts, quality)));
    }
    return calibrated(volts, quality, calibration.get());
  }

  private Outcome calibrated(double volts, Quality quality, PidCalibration by) {
    double drift = Math.max(DRIFT_VOLTS, DRIFT_PPM * by.voltsPerPpm());
    if (volts < by.zeroVolts() - drift) {
      return failed(
          "%.3f V is below its zero of %.3f V: check lamp, power and wire"
              .formatted(volts, by.zeroVolts()));
    }
    List<Reading> readings = new ArrayList<>();
    boolean atEnd = volts >= by.topVolts();
    readings.add(
        Reading.of(
            VOLTAGE.name(),
            VOLTAGE.unit(),
            volts,
            atEnd ? Quality.suspect(AirEvents.AT_END) : quality));
    double ppm = by.isobutylenePpm(volts);
    readings.add(Reading.of(ISOBUTYLENE.name(), ISOBUTYLENE.unit(), ppm / MILLION, quality));
    readings.add(
        Reading.of(STYRENE.name(), STYRENE.unit(), by.styreneFactor() * ppm / MILLION, quality));
    return Outcome.of(readings);
  }
}
