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

/** Reads all parts, at once or on a schedule. A part that fails, however it fails, is told of. */
public final class Sampler {
  private final Pace pace;
  private final Supplier<List<? extends Part>> parts;
  private final Consumer<Sampled> sink;
  private final Optional<Crosscheck> crosscheck;

  /**
   * A sampler that is still.
   *
   * @param parts asked for at each round; air sensors first, so that the vapor sensor hears of them
   * @param sink called on the sampler's thread with each sample, which may have no readings but
   *     faults
   */
  public Sampler(Pace pace, Supplier<List<? extends Part>> parts, Consumer<Sampled> sink) {
    this(pace, parts, sink, Optional.empty());
  }

  private Sampler(
      Pace pace,
      Supplier<List<? extends Part>> parts,
      Consumer<Sampled> sink,
      Optional<Crosscheck> crosscheck) {
    this.pace = pace;
    this.parts = parts;
    this.sink = sink;
    this.crosscheck = crosscheck;
  }

  /** The same, with its sensors compared with each other: for sensors in one real room. */
  public Sampler comparing(Crosscheck with) {
    return new Sampler(pace, parts, sink, Optional.of(with));
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
    Round round = new Round(uptime);
    List<Reading> readings = new ArrayList<>();
    List<PartFault> faults = new ArrayList<>();
    for (Part part : parts.get()) {
      Part.Outcome outcome = read(part, round);
      readings.addAll(outcome.readings());
      Optional<String> fault = outcome.fault();
      fault.ifPresent(reason -> faults.add(new PartFault(part.name(), reason)));
    }
    List<Reading> judged = crosscheck.map(one -> one.judge(readings, round)).orElse(readings);
    sink.accept(new Sampled(uptime, wall, pace.wallClockSet(), judged, faults));
  }

  private static Part.Outcome read(Part part, Round round) {
    try {
      return part.read(round);
    } catch (RuntimeException e) {
      Logger.error(e, "{} failed in a way that its driver does not know", part.name());
      return part.failed("its driver failed: " + e);
    }
  }
}
