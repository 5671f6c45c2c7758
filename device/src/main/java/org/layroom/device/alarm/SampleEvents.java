package org.layroom.device.alarm;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.device.sampling.PidPart;
import org.layroom.device.sampling.Sampled;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.fumes.AirEvent;
import org.layroom.predictor.fumes.VaporSensor;

/** What one sample means to the watch over the air. */
final class SampleEvents {
  private static final double MILLION = 1e6;

  private SampleEvents() {}

  /**
   * The event of a sample.
   *
   * @param sensor what the watch goes by
   * @param time on the watch's own clock
   */
  static AirEvent of(VaporSensor sensor, Sampled sampled, Instant time) {
    return sensor instanceof VaporSensor.Pid ? ofDetector(sampled, time) : ofChip(sampled, time);
  }

  private static AirEvent ofDetector(Sampled sampled, Instant time) {
    Optional<Reading> ppm = named(sampled, Series.ISOBUTYLENE);
    Optional<Reading> volts = named(sampled, Series.PID_VOLTAGE);
    if (ppm.isEmpty() || volts.isEmpty()) {
      return new AirEvent.Failed(time, "no vapor detector answers");
    }
    if (ppm.get().value().isEmpty() || !ppm.get().quality().isGood()) {
      return new AirEvent.Failed(time, ppm.get().quality().words());
    }
    return new AirEvent.Ppm(
        time,
        MILLION * ppm.get().value().getAsDouble(),
        volts.get().value().orElse(0),
        volts.get().quality().equals(Quality.suspect(PidPart.AT_END)));
  }

  private static AirEvent ofChip(Sampled sampled, Instant time) {
    Optional<Reading> raw = named(sampled, Series.VOC_RAW);
    if (raw.isEmpty()) {
      return new AirEvent.Failed(time, "no vapor sensor answers");
    }
    OptionalDouble ticks = raw.get().value();
    return ticks.isPresent()
        ? new AirEvent.Ticks(
            time, ticks.getAsDouble(), climate(sampled), doubt(raw.get(), ticks.getAsDouble()))
        : new AirEvent.Failed(time, raw.get().quality().words());
  }

  /** At its end toward vapor a chip is not doubted: that is the message. */
  private static Optional<String> doubt(Reading raw, double ticks) {
    return ticks > 0 && raw.quality() instanceof Quality.Suspect suspect
        ? Optional.of(suspect.reason())
        : Optional.empty();
  }

  private static Optional<AirEvent.Climate> climate(Sampled sampled) {
    List<Double> both = new ArrayList<>();
    for (String name : List.of(Series.TEMPERATURE, Series.HUMIDITY)) {
      named(sampled, name).ifPresent(reading -> reading.value().ifPresent(both::add));
    }
    return both.size() == 2
        ? Optional.of(new AirEvent.Climate(both.get(0), both.get(1)))
        : Optional.empty();
  }

  private static Optional<Reading> named(Sampled sampled, String name) {
    return sampled.readings().stream().filter(one -> one.name().equals(name)).findFirst();
  }
}
