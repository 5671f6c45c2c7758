package org.layroom.dashboard.alarms;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.vapor.VaporSensor;

/** What a device would send of a happening: the readings of one sample. */
public final class Readings {
  private Readings() {}

  /** Whose sample it is; empty for what is no sample. */
  public static Optional<String> device(Happening happening) {
    if (happening instanceof Happening.ChipRead read) {
      return Optional.of(read.device());
    } else if (happening instanceof Happening.PidRead read) {
      return Optional.of(read.device());
    }
    return happening instanceof Happening.ReadFailed failed
        ? Optional.of(failed.device())
        : Optional.empty();
  }

  /** The sample. */
  public static List<Reading> of(Happening happening, Sensor.Kind kind) {
    if (happening instanceof Happening.ChipRead read) {
      return chip(read);
    } else if (happening instanceof Happening.PidRead read) {
      Quality quality = read.atEnd() ? Quality.suspect(AirEvents.AT_END) : Quality.good();
      return List.of(
          Reading.of(Series.PID_VOLTAGE, Series.VOLT, read.volts(), quality),
          Reading.of(Series.ISOBUTYLENE, Series.RATIO, read.isobutylenePpm() / 1e6),
          Reading.of(
              Series.STYRENE_ESTIMATE,
              Series.RATIO,
              VaporSensor.Pid.USUAL_FACTOR * read.isobutylenePpm() / 1e6));
    }
    String reason = ((Happening.ReadFailed) happening).reason();
    return kind == Sensor.Kind.PID
        ? List.of(
            Reading.missing(Series.PID_VOLTAGE, Series.VOLT, reason),
            Reading.missing(Series.ISOBUTYLENE, Series.RATIO, reason))
        : List.of(Reading.missing(Series.VOC_RAW, Series.NO_UNIT, reason));
  }

  private static List<Reading> chip(Happening.ChipRead read) {
    List<Reading> readings = new ArrayList<>();
    read.temperatureC()
        .ifPresent(value -> readings.add(Reading.of(Series.TEMPERATURE, Series.CELSIUS, value)));
    read.humidityPct()
        .ifPresent(
            value -> readings.add(Reading.of(Series.HUMIDITY, Series.RELATIVE_HUMIDITY, value)));
    readings.add(
        Reading.of(
            Series.VOC_RAW,
            Series.NO_UNIT,
            read.ticks(),
            read.doubt().map(Quality::suspect).orElse(Quality.good())));
    return readings;
  }
}
