package org.layroom.device.sampling;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import org.layroom.device.chip.Bme280;
import org.layroom.device.chip.ChipRead;
import org.layroom.device.chip.Sht4x;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/** The air sensor of a room: an SHT4x, or a BME280, which gives the pressure too. */
public final class AirSensor implements Sensor {
  private static final SeriesName TEMPERATURE = new SeriesName(Series.TEMPERATURE, Series.CELSIUS);
  private static final SeriesName HUMIDITY =
      new SeriesName(Series.HUMIDITY, Series.RELATIVE_HUMIDITY);
  private static final SeriesName PRESSURE = new SeriesName(Series.PRESSURE, Series.PASCAL);

  /** A room's air does not change by more between neighbors (common practice, no source). */
  private static final double TEMPERATURE_JUMP = 5;

  private static final double HUMIDITY_JUMP = 30;
  private static final double PRESSURE_JUMP = 500;

  /** These chips' last digits never stand still for this long (common practice, no source). */
  private static final Duration STUCK = Duration.ofHours(1);

  private final String name;
  private final List<SeriesName> series;
  private final List<SeriesCheck> watches;
  private final Supplier<ChipRead<double[]>> chip;

  /** It stands in for a better sensor of the air. */
  private final boolean standsIn;

  private AirSensor(
      String name,
      List<SeriesName> series,
      List<SeriesCheck.Limits> limits,
      Supplier<ChipRead<double[]>> chip,
      boolean standsIn) {
    this.standsIn = standsIn;
    this.name = name;
    this.series = series;
    this.watches = limits.stream().map(SeriesCheck::new).toList();
    this.chip = chip;
  }

  /** An SHT4x: -40 to 125 degC. */
  public static AirSensor sht4x(Sht4x chip, ValueOrigin origin) {
    return new AirSensor(
        "air sensor SHT4x",
        List.of(TEMPERATURE, HUMIDITY),
        List.of(temperature(-40, 125, origin), humidity()),
        () -> chip.read().map(air -> new double[] {air.temperatureC(), air.humidityPct()}),
        false);
  }

  /** An SHT4x of whose two values only the temperature is used: for recordings without humidity. */
  public static AirSensor thermometer(Sht4x chip, ValueOrigin origin) {
    return new AirSensor(
        "air sensor SHT4x, temperature only",
        List.of(TEMPERATURE),
        List.of(temperature(-40, 125, origin)),
        () -> chip.read().map(air -> new double[] {air.temperatureC()}),
        false);
  }

  /** An SHT4x of whose two values only the humidity is used: for recordings without temperature. */
  public static AirSensor hygrometer(Sht4x chip) {
    return new AirSensor(
        "air sensor SHT4x, humidity only",
        List.of(HUMIDITY),
        List.of(humidity()),
        () -> chip.read().map(air -> new double[] {air.humidityPct()}),
        false);
  }

  /** A BME280: -40 to 85 degC, 300 to 1100 hPa. */
  public static AirSensor bme280(Bme280 chip, ValueOrigin origin) {
    return new AirSensor(
        "air sensor BME280",
        List.of(TEMPERATURE, HUMIDITY, PRESSURE),
        List.of(temperature(-40, 85, origin), humidity(), pressure(origin)),
        () ->
            chip.read()
                .map(air -> new double[] {air.temperatureC(), air.humidityPct(), air.pressurePa()}),
        false);
  }

  /**
   * A BME280 beside a better air sensor: its pressure alone, and its air only compared with, unless
   * the better one gives nothing in a round; then it speaks for the air.
   */
  public static AirSensor barometer(Bme280 chip, ValueOrigin origin) {
    return new AirSensor(
        "pressure sensor BME280",
        List.of(TEMPERATURE, HUMIDITY, PRESSURE),
        List.of(temperature(-40, 85, origin), humidity(), pressure(origin)),
        () ->
            chip.read()
                .map(air -> new double[] {air.temperatureC(), air.humidityPct(), air.pressurePa()}),
        true);
  }

  private static SeriesCheck.Limits pressure(ValueOrigin origin) {
    return new SeriesCheck.Limits(30_000, 110_000, PRESSURE_JUMP, stuck(origin), "Pa");
  }

  private static SeriesCheck.Limits temperature(double lowest, double highest, ValueOrigin origin) {
    return new SeriesCheck.Limits(lowest, highest, TEMPERATURE_JUMP, stuck(origin), "°C");
  }

  /** Humidity stands still by itself at either end of its range. */
  private static SeriesCheck.Limits humidity() {
    return new SeriesCheck.Limits(0, 100, HUMIDITY_JUMP, SeriesCheck.NEVER, "%");
  }

  private static Duration stuck(ValueOrigin origin) {
    return origin == ValueOrigin.LIVE ? STUCK : SeriesCheck.NEVER;
  }

  @Override
  public String name() {
    return name;
  }

  @Override
  public List<SeriesName> series() {
    return standsIn ? List.of(PRESSURE) : series;
  }

  @Override
  public Outcome read(SamplingRound round) {
    ChipRead<double[]> read = chip.get();
    if (read instanceof ChipRead.Failed<double[]> failed) {
      return failed(failed.reason());
    }
    double[] values = ((ChipRead.Value<double[]>) read).value();
    List<Reading> readings = new ArrayList<>();
    Optional<String> fault = Optional.empty();
    boolean beside = standsIn && round.air().isPresent();
    if (standsIn) {
      round.foundBeside(values[0], values[1]);
    }
    for (int i = 0; i < series.size(); i++) {
      SeriesName one = series.get(i);
      if (beside && !one.name().equals(PRESSURE.name())) {
        continue;
      }
      Quality quality = watches.get(i).judge(values[i], round.uptime());
      if (quality instanceof Quality.Fault bad) {
        fault = Optional.of(one.name() + " " + bad.reason());
        readings.add(Reading.missing(one.name(), one.unit(), bad.reason()));
      } else {
        readings.add(Reading.of(one.name(), one.unit(), values[i], quality));
      }
    }
    if (fault.isEmpty() && tellsTemperature() && tellsHumidity()) {
      round.found(values[0], values[1]);
    }
    return new Outcome(readings, fault);
  }

  private boolean tellsTemperature() {
    return series.stream().anyMatch(one -> one.name().equals(TEMPERATURE.name()));
  }

  /** By name: a record's own comparison is put together at the first use, at each start anew. */
  private boolean tellsHumidity() {
    return series.stream().anyMatch(one -> one.name().equals(HUMIDITY.name()));
  }
}
