package org.layroom.device.sampling;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.layroom.device.telemetry.Reading;
import org.tinylog.Logger;

/**
 * Reads all sensors, at once or on a schedule. A sensor that fails, however it fails, is told of.
 */
public final class Sampler {
  private final Pace pace;
  private final Supplier<List<? extends Sensor>> sensors;
  private final Consumer<Sample> sink;
  private final Optional<Crosscheck> crosscheck;

  /**
   * A sampler that is still.
   *
   * @param sensors asked for at each round; air sensors first, so that the vapor sensor hears of
   *     them
   * @param sink called on the sampler's thread with each sample, which may have no readings but
   *     faults
   */
  public Sampler(Pace pace, Supplier<List<? extends Sensor>> sensors, Consumer<Sample> sink) {
    this(pace, sensors, sink, Optional.empty());
  }

  private Sampler(
      Pace pace,
      Supplier<List<? extends Sensor>> sensors,
      Consumer<Sample> sink,
      Optional<Crosscheck> crosscheck) {
    this.pace = pace;
    this.sensors = sensors;
    this.sink = sink;
    this.crosscheck = crosscheck;
  }

  /** The same, with its sensors compared with each other: for sensors in one real room. */
  public Sampler comparing(Crosscheck with) {
    return new Sampler(pace, sensors, sink, Optional.of(with));
  }

  /**
   * Samples after each period, until called off.
   *
   * @param period longer than zero
   */
  public Pace.Scheduled every(Duration period) {
    return pace.every(period, this::sampleOnce);
  }

  /** Samples now, on the caller's thread. */
  public void sampleOnce() {
    Duration uptime = pace.uptime();
    Instant wall = pace.now();
    SamplingRound round = new SamplingRound(uptime);
    List<Reading> readings = new ArrayList<>();
    List<PartFault> faults = new ArrayList<>();
    for (Sensor sensor : sensors.get()) {
      Sensor.Outcome outcome = read(sensor, round);
      readings.addAll(outcome.readings());
      Optional<String> fault = outcome.fault();
      fault.ifPresent(reason -> faults.add(new PartFault(sensor.name(), reason)));
    }
    List<Reading> told = onceEach(readings);
    List<Reading> judged = crosscheck.map(one -> one.judge(told, round)).orElse(told);
    sink.accept(new Sample(uptime, wall, pace.wallClockSet(), judged, faults));
  }

  /** Of two readings of one series, of which one is missing, the value counts. */
  private static List<Reading> onceEach(List<Reading> readings) {
    return readings.stream()
        .filter(
            one ->
                one.value().isPresent()
                    || readings.stream()
                        .noneMatch(
                            other -> other.name().equals(one.name()) && other.value().isPresent()))
        .toList();
  }

  private static Sensor.Outcome read(Sensor sensor, SamplingRound round) {
    try {
      return sensor.read(round);
    } catch (RuntimeException e) {
      Logger.error(e, "{} failed with an error that its driver does not handle", sensor.name());
      return sensor.failed("driver error: " + e);
    }
  }
}
