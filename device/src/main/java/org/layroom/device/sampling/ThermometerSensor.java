package org.layroom.device.sampling;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.layroom.device.chip.ChipRead;
import org.layroom.device.chip.Ds18b20;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/** A DS18B20 on a mold or in the resin can. */
public final class ThermometerSensor implements Sensor {
  /** Steps of 1/16 degC may well stand still for hours; a day is too long (no source). */
  private static final Duration STUCK = Duration.ofHours(24);

  /** A mold or a can is heavier than air (common practice, no source). */
  private static final double JUMP = 8;

  private final SeriesName series;
  private final Ds18b20 chip;
  private final SeriesCheck watch;

  private ThermometerSensor(String series, Ds18b20 chip, ValueOrigin origin) {
    this.series = new SeriesName(series, Series.CELSIUS);
    this.chip = chip;
    this.watch =
        new SeriesCheck(
            new SeriesCheck.Limits(
                -55, 125, JUMP, origin == ValueOrigin.LIVE ? STUCK : SeriesCheck.NEVER, "°C"));
  }

  /** The only mold thermometer of a device: {@code mold-temperature}. */
  public static ThermometerSensor mold(Ds18b20 chip, ValueOrigin origin) {
    return new ThermometerSensor(Series.MOLD_TEMPERATURE, chip, origin);
  }

  /**
   * One of several mold thermometers: {@code mold-temperature/<name>}.
   *
   * @param name 1 to 32 of {@code a-z 0-9 -}
   */
  public static ThermometerSensor mold(String name, Ds18b20 chip, ValueOrigin origin) {
    return new ThermometerSensor(Series.MOLD_TEMPERATURE + "/" + name, chip, origin);
  }

  /** The thermometer in the resin can: {@code resin-temperature}. */
  public static ThermometerSensor resin(Ds18b20 chip, ValueOrigin origin) {
    return new ThermometerSensor(Series.RESIN_TEMPERATURE, chip, origin);
  }

  @Override
  public String name() {
    return series.name() + " sensor DS18B20 " + chip.id();
  }

  @Override
  public List<SeriesName> series() {
    return List.of(series);
  }

  @Override
  public Outcome read(SamplingRound round) {
    ChipRead<Double> read = chip.read();
    if (read instanceof ChipRead.Failed<Double> failed) {
      return failed(failed.reason());
    }
    double celsius = ((ChipRead.Value<Double>) read).value();
    Quality quality = watch.judge(celsius, round.uptime());
    if (quality instanceof Quality.Fault fault) {
      return failed(fault.reason());
    }
    return new Outcome(
        List.of(Reading.of(series.name(), series.unit(), celsius, quality)), Optional.empty());
  }
}
