package org.layroom.device.publishing;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxSample;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.SampleTime;

/**
 * Puts a sample into a message, with its time worked out anew from the clocks at sending.
 *
 * <ul>
 *   <li>Measured since this start, clock set: now minus its age on the running clock, so that a
 *       clock set late puts the whole backlog right.
 *   <li>Measured since this start, clock not set: its age alone (RFC 8428 section 4.5.3).
 *   <li>Measured at an earlier start during which the clock was set at any time: counted from there
 *       on that start's running clock.
 *   <li>Measured at an earlier start with the clock never set: what the clock showed, and every
 *       value marked suspect.
 * </ul>
 */
final class MessageWriter {
  private static final String TIME_GUESSED = "time is estimated: the device's clock was not set";

  private final Outbox outbox;

  MessageWriter(Outbox outbox) {
    this.outbox = outbox;
  }

  /** A sample of the outbox. */
  DeviceMessage.Sample of(OutboxSample sample, ClockReading clock) {
    Optional<OutboxPosition> position =
        Optional.of(new OutboxPosition(outbox.name(), sample.sequence()));
    if (sample.boot().equals(outbox.boot())) {
      return ofThisStart(position, sample.uptime(), sample.readings(), clock);
    }
    Optional<Instant> start = outbox.bootStart(sample.boot());
    return new DeviceMessage.Sample(
        new SampleTime.At(start.map(s -> s.plus(sample.uptime())).orElse(sample.wall())),
        position,
        seconds(sample.uptime()),
        OptionalDouble.empty(),
        start.isPresent() ? sample.readings() : doubtful(sample.readings()));
  }

  /** A sample that the disk refused: it goes without a place in the outbox. */
  DeviceMessage.Sample unkept(Sample sampled, ClockReading clock) {
    return ofThisStart(Optional.empty(), sampled.uptime(), sampled.readings(), clock);
  }

  private static DeviceMessage.Sample ofThisStart(
      Optional<OutboxPosition> position,
      Duration uptime,
      List<Reading> readings,
      ClockReading clock) {
    Duration age = clock.uptime().minus(uptime);
    SampleTime time =
        clock.wallClockSet()
            ? new SampleTime.At(clock.wall().minus(age))
            : new SampleTime.Ago(age.isNegative() ? Duration.ZERO : age);
    return new DeviceMessage.Sample(
        time, position, seconds(uptime), seconds(clock.uptime()), readings);
  }

  private static List<Reading> doubtful(List<Reading> readings) {
    return readings.stream()
        .map(
            reading ->
                reading.quality().isGood()
                    ? new Reading(
                        reading.name(),
                        reading.unit(),
                        reading.value(),
                        reading.text(),
                        Quality.suspect(TIME_GUESSED))
                    : reading)
        .toList();
  }

  private static OptionalDouble seconds(Duration duration) {
    return OptionalDouble.of(duration.toMillis() / 1000.0);
  }
}
