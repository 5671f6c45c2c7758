package org.layroom.predictor.vapor;

import java.util.Optional;

/**
 * What an event of the sensor says to the averages: a level against clean air from a chip's ticks
 * or from the device that reckoned it, ppm from a detector. An event of another kind of sensor says
 * nothing.
 */
final class SensorEvents {
  /** The end of what a raw signal can be, toward vapor. */
  private static final double VAPOR_END_TICKS = 0;

  private SensorEvents() {}

  static Optional<SensorFeed.Told> of(VaporSensor sensor, AirEvent.Ticks reading) {
    return sensor instanceof VaporSensor.Chip chip
        ? Optional.of(ofChip(chip, reading))
        : Optional.empty();
  }

  /** The device has judged the raw signal, so its signs are not looked for again. */
  static Optional<SensorFeed.Told> of(VaporSensor sensor, AirEvent.Level reading) {
    if (!(sensor instanceof VaporSensor.Chip chip) || !chip.keptByDevice()) {
      return Optional.empty();
    }
    return Optional.of(
        new SensorFeed.Told(
            reading.time(),
            reading.timesCleanAir(),
            reading.timesCleanAir(),
            true,
            reading.pinned(),
            true,
            reading.doubt().map(SensorEvents::doubtful)));
  }

  static Optional<SensorFeed.Told> of(VaporSensor sensor, AirEvent.Ppm reading) {
    if (!(sensor instanceof VaporSensor.Pid pid)) {
      return Optional.empty();
    }
    return Optional.of(
        new SensorFeed.Told(
            reading.time(),
            reading.raw(),
            pid.styreneFactor() * reading.isobutylenePpm(),
            false,
            reading.atEnd(),
            false,
            Optional.empty()));
  }

  /** A chip without clean air has no level: nothing is counted, but its end is still an end. */
  private static SensorFeed.Told ofChip(VaporSensor.Chip chip, AirEvent.Ticks reading) {
    double level =
        chip.cleanAir()
            .map(clean -> VocLevel.timesCleanAir(clean.ticks(), reading.ticks()))
            .orElse(0.0);
    return new SensorFeed.Told(
        reading.time(),
        reading.ticks(),
        level,
        true,
        reading.ticks() <= VAPOR_END_TICKS,
        false,
        doubt(reading));
  }

  private static Optional<String> doubt(AirEvent.Ticks reading) {
    return reading
        .doubt()
        .map(SensorEvents::doubtful)
        .or(() -> WatchWords.doubt(reading.climate()));
  }

  private static String doubtful(String words) {
    return "The reading is doubtful: " + words + ".";
  }
}
