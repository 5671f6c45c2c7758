package org.layroom.dashboard.warning;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import org.layroom.dashboard.store.History;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.fumes.AirEvent;
import org.layroom.predictor.fumes.VaporSensor;

/** What a stored sample means to a watch, by what the watch is told to measure with. */
final class AirReadings {
  /** A detector's own reading as isobutylene, ratio; the factor is applied here. */
  static final String ISOBUTYLENE = "isobutylene";

  private static final double MILLION = 1e6;
  private static final double MOST_TIMES_CLEAN_AIR = 1e6;

  /** What a watch may be fed with, in the order of {@link #of(VaporSensor, Instant, List)}. */
  static final List<String> SERIES =
      List.of(
          Series.VOC_RAW,
          Series.VOC_LEVEL,
          Series.STYRENE_ESTIMATE,
          ISOBUTYLENE,
          Series.TEMPERATURE,
          Series.HUMIDITY);

  private AirReadings() {}

  /** Whether a sample says anything of vapor. */
  static boolean measuresVapor(StoreEntry.Sample sample) {
    return sample.readings().stream().anyMatch(one -> SERIES.subList(0, 4).contains(one.name()));
  }

  /** Whether its device keeps a clean-air reading and tells a level. */
  static boolean tellsLevel(StoreEntry.Sample sample) {
    return named(sample, Series.VOC_LEVEL).isPresent();
  }

  /** A chip's raw signal, where the sample has one. */
  static Optional<AirEvent.Ticks> ticks(StoreEntry.Sample sample, Instant time) {
    Optional<Reading> raw = named(sample, Series.VOC_RAW);
    return raw.isPresent() && raw.get().value().isPresent()
        ? Optional.of(
            new AirEvent.Ticks(
                time, raw.get().value().getAsDouble(), climate(sample), doubt(raw.get())))
        : Optional.empty();
  }

  /** The event of a sample; empty when it says nothing that this sensor could. */
  static Optional<AirEvent> of(VaporSensor sensor, Instant time, StoreEntry.Sample sample) {
    return sensor instanceof VaporSensor.Chip chip
        ? ofChip(chip, time, sample)
        : ofDetector((VaporSensor.Pid) sensor, time, sample);
  }

  private static Optional<AirEvent> ofChip(
      VaporSensor.Chip chip, Instant time, StoreEntry.Sample sample) {
    Optional<Reading> reading =
        named(sample, chip.keptByDevice() ? Series.VOC_LEVEL : Series.VOC_RAW);
    if (reading.isEmpty()) {
      return wrongMode(sample, time, "a detector's, and the mode is chip", 2, 4);
    }
    if (reading.get().value().isEmpty()) {
      return Optional.of(new AirEvent.Failed(time, reason(reading.get())));
    }
    double value = reading.get().value().getAsDouble();
    boolean pinned =
        named(sample, Series.VOC_RAW).filter(raw -> raw.value().orElse(1) <= 0).isPresent();
    Optional<String> doubt = pinned ? Optional.empty() : doubt(reading.get());
    return Optional.of(
        chip.keptByDevice()
            ? new AirEvent.Level(time, Math.min(MOST_TIMES_CLEAN_AIR, value), pinned, doubt)
            : new AirEvent.Ticks(time, value, climate(sample), doubt));
  }

  private static Optional<AirEvent> ofDetector(
      VaporSensor.Pid pid, Instant time, StoreEntry.Sample sample) {
    Optional<Reading> own = named(sample, ISOBUTYLENE);
    Optional<Reading> reading = own.or(() -> named(sample, Series.STYRENE_ESTIMATE));
    if (reading.isEmpty()) {
      return wrongMode(sample, time, "a metal-oxide chip's, and the mode is pid", 0, 2);
    }
    if (reading.get().value().isEmpty() || !reading.get().quality().isGood()) {
      return Optional.of(new AirEvent.Failed(time, reason(reading.get())));
    }
    double ppm = MILLION * reading.get().value().getAsDouble();
    double isobutylene = own.isPresent() ? ppm : ppm / pid.styreneFactor();
    return Optional.of(new AirEvent.Ppm(time, isobutylene, ppm, false));
  }

  private static Optional<AirEvent> wrongMode(
      StoreEntry.Sample sample, Instant time, String what, int from, int to) {
    boolean other =
        SERIES.subList(from, to).stream().anyMatch(name -> named(sample, name).isPresent());
    return other
        ? Optional.of(
            new AirEvent.Failed(
                time, "its readings are " + what + ": choose the mode that fits the sensor"))
        : Optional.empty();
  }

  /** The event of good values from the store, in the order of {@link #SERIES}. */
  static Optional<AirEvent> of(VaporSensor sensor, Instant time, List<OptionalDouble> values) {
    if (sensor instanceof VaporSensor.Pid pid) {
      OptionalDouble own = values.get(3);
      OptionalDouble estimate = values.get(2);
      if (own.isEmpty() && estimate.isEmpty()) {
        return Optional.empty();
      }
      double isobutylene =
          MILLION
              * (own.isPresent() ? own.getAsDouble() : estimate.orElse(0) / pid.styreneFactor());
      return Optional.of(new AirEvent.Ppm(time, isobutylene, isobutylene, false));
    }
    boolean levels = ((VaporSensor.Chip) sensor).keptByDevice();
    OptionalDouble value = values.get(levels ? 1 : 0);
    if (value.isEmpty()) {
      return Optional.empty();
    }
    boolean pinned = values.get(0).isPresent() && values.get(0).getAsDouble() <= 0;
    Optional<AirEvent.Climate> climate =
        values.get(4).isPresent() && values.get(5).isPresent()
            ? Optional.of(
                new AirEvent.Climate(values.get(4).getAsDouble(), values.get(5).getAsDouble()))
            : Optional.empty();
    return Optional.of(
        levels
            ? new AirEvent.Level(time, Math.min(MOST_TIMES_CLEAN_AIR, value.getAsDouble()), pinned)
            : new AirEvent.Ticks(time, value.getAsDouble(), climate));
  }

  /** Streams a device's stored events in {@code [from, to)}. */
  static void stored(
      History history,
      Channel channel,
      Instant from,
      Instant to,
      VaporSensor sensor,
      Consumer<AirEvent> taker) {
    history.rows(
        channel, SERIES, from, to, (time, values) -> of(sensor, time, values).ifPresent(taker));
  }

  static Optional<AirEvent.Climate> climate(StoreEntry.Sample sample) {
    OptionalDouble temperature = value(sample, Series.TEMPERATURE);
    OptionalDouble humidity = value(sample, Series.HUMIDITY);
    return temperature.isPresent() && humidity.isPresent()
        ? Optional.of(new AirEvent.Climate(temperature.getAsDouble(), humidity.getAsDouble()))
        : Optional.empty();
  }

  private static OptionalDouble value(StoreEntry.Sample sample, String name) {
    return named(sample, name).map(Reading::value).orElse(OptionalDouble.empty());
  }

  private static Optional<String> doubt(Reading reading) {
    return reading.quality() instanceof Quality.Suspect suspect
        ? Optional.of(suspect.reason())
        : Optional.empty();
  }

  private static String reason(Reading reading) {
    if (reading.quality() instanceof Quality.Suspect suspect) {
      return suspect.reason();
    }
    return reading.quality() instanceof Quality.Fault fault ? fault.reason() : "no value";
  }

  private static Optional<Reading> named(StoreEntry.Sample sample, String name) {
    return sample.readings().stream().filter(one -> one.name().equals(name)).findFirst();
  }
}
