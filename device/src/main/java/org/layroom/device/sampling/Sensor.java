package org.layroom.device.sampling;

import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.Reading;

/** One fitted sensor: a driver together with the names that its values are sent under. */
public interface Sensor {
  /** For the person in the shop, such as {@code air sensor SHT4x}. */
  String name();

  /** What this sensor gives at each reading, so that a failure can be told for each of them. */
  List<SeriesName> series();

  /** Reads the chip. */
  Outcome read(SamplingRound round);

  /** The name and unit of one of a sensor's values. */
  record SeriesName(String name, String unit) {}

  /**
   * What came of one reading.
   *
   * @param fault why the sensor does not work now; empty when it does
   */
  record Outcome(List<Reading> readings, Optional<String> fault) {
    public Outcome {
      readings = List.copyOf(readings);
    }

    static Outcome of(List<Reading> readings) {
      return new Outcome(readings, Optional.empty());
    }
  }

  /** Every value missing, for one reason. */
  default Outcome failed(String reason) {
    return new Outcome(
        series().stream().map(s -> Reading.missing(s.name(), s.unit(), reason)).toList(),
        Optional.of(reason));
  }
}
