package org.layroom.device.sampling;

import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.device.telemetry.Series;

/**
 * A sensor whose values are corrected by what a comparison has shown, as it is known at the time.
 */
public final class CorrectedSensor implements Sensor {
  private final Sensor sensor;
  private final CurrentOffsets offsets;
  private final Optional<String> id;

  private CorrectedSensor(Sensor sensor, CurrentOffsets offsets, Optional<String> id) {
    this.sensor = sensor;
    this.offsets = offsets;
    this.id = id;
  }

  /**
   * The sensor, corrected where there is something to correct.
   *
   * @param id of a thermometer, by which its offset may be named; empty for other sensors
   */
  public static Sensor of(Sensor sensor, CurrentOffsets offsets, Optional<String> id) {
    return sensor.series().stream().anyMatch(series -> Series.correctable(series.name()))
        ? new CorrectedSensor(sensor, offsets, id)
        : sensor;
  }

  @Override
  public String name() {
    return sensor.name();
  }

  @Override
  public List<SeriesName> series() {
    return sensor.series();
  }

  @Override
  public Outcome read(SamplingRound round) {
    Outcome outcome = sensor.read(round);
    return new Outcome(outcome.readings().stream().map(this::corrected).toList(), outcome.fault());
  }

  private Reading corrected(Reading reading) {
    if (!Series.correctable(reading.name()) || reading.value().isEmpty()) {
      return reading;
    }
    Optional<SensorOffset> offset = offsets.use(reading.name(), id);
    if (offset.isEmpty()) {
      return reading;
    }
    double value = reading.value().getAsDouble() + offset.get().amount();
    boolean humidity = reading.name().equals(Series.HUMIDITY);
    return Reading.of(
        reading.name(),
        reading.unit(),
        humidity ? Math.max(0, Math.min(100, value)) : value,
        reading.quality());
  }
}
