package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.predictor.exposure.AirSample;

/**
 * A bump test: a known vapor is held to the sensor on purpose, to see that it still answers. It
 * says nothing about how much vapor a reading stands for, and nothing is ever learned from it: not
 * the clean air, not the leave levels. Its readings are real ones, so lamp, buzzer and fan come on
 * by themselves. That an alarm is tested so is common practice for gas detectors; source, amount,
 * distance, rise and times are this project's own choice. Immutable.
 */
public final class BumpTest {
  /** What to hold to the sensor, how much, and from where. */
  public static final String HOW =
      "Put 3 drops (0.1 ml) of acetone on a cotton swab, outdoors or away from the sensor. Hold the"
          + " swab 5 cm (2 in) from the sensor's opening. Do not touch the sensor.";

  /** What is never held to a sensor, and why. */
  public static final String NEVER =
      "No lighter gas, no flame, no silicone spray or sealant: silicone destroys the sensor. Acetone"
          + " burns: no flame, heater off, the swab outdoors afterward.";

  /** The first sign must come this soon, with the way to the sensor. */
  public static final Duration STARTS_WITHIN = Duration.ofMinutes(3);

  /** From its first sign the rise must be there this soon. */
  public static final Duration RISES_WITHIN = Duration.ofMinutes(1);

  /** A reading confirms the one before, or it may be wrong. */
  private static final Duration CONFIRMED_WITHIN = Duration.ofSeconds(90);

  private static final double RISE = 3;
  private static final double FIRST_SIGN = 1.3;
  private static final double FIRST_SIGN_PPM = 2;

  private final Instant start;
  private final double before;
  private final double sign;
  private final double target;
  private final List<AirSample> samples;

  /** How far it is. */
  public sealed interface Progress {
    /**
     * Not through.
     *
     * @param rising the first sign was seen
     * @param now the newest level
     * @param left how long it may last yet
     */
    record Waiting(boolean rising, double now, Duration left) implements Progress {}

    /** Through. */
    record Through(BumpResult result) implements Progress {}
  }

  private BumpTest(
      Instant start, double before, double sign, double target, List<AirSample> samples) {
    this.start = start;
    this.before = before;
    this.sign = sign;
    this.target = target;
    this.samples = samples;
  }

  /**
   * Begins.
   *
   * @param start on the watch's own clock
   * @param before the minute's mean in the air of the room: times clean air, or ppm as styrene
   */
  public static BumpTest begun(Instant start, VaporSensor sensor, double before) {
    if (sensor instanceof VaporSensor.Pid pid) {
      double target = Math.max(pid.limit().shortTermPpm(), RISE * before);
      return new BumpTest(start, before, before + FIRST_SIGN_PPM, target, List.of());
    }
    double from = Math.max(1, before);
    return new BumpTest(start, before, FIRST_SIGN * from, RISE * from, List.of());
  }

  /** Why none can begin now, in words; empty when one can. */
  public static Optional<String> refused(VaporWatch watch) {
    if (watch.inJob()) {
      return Optional.of(
          "A job is under way. Do the bump test before the first cup, or when the job is over.");
    }
    List<String> doubts = watch.doubtsBesideATest();
    if (!doubts.isEmpty() || watch.lastMinute().isEmpty()) {
      return Optional.of(
          "The sensor does not measure now, so a rise could not be seen. "
              + String.join(" ", doubts));
    }
    double now = watch.lastMinute().get().value();
    double most =
        watch.settings().sensor() instanceof VaporSensor.Pid pid
            ? pid.limit().eightHourPpm() / 2
            : VocLevel.RISE_FROM;
    AirCall known = watch.memory().base();
    return now >= most || known == AirCall.VENTILATE || known == AirCall.LEAVE
        ? Optional.of("The air is not low yet. Ventilate first: a rise must be seen.")
        : Optional.empty();
  }

  /** The level that must be reached: times clean air, or ppm as styrene. */
  public double target() {
    return target;
  }

  /** When it began. */
  public Instant start() {
    return start;
  }

  /** With one more reading; one that is not newer than the newest is ignored. */
  public BumpTest plus(AirSample reading) {
    boolean late =
        !reading.time().isAfter(start)
            || (!samples.isEmpty()
                && !reading.time().isAfter(samples.get(samples.size() - 1).time()));
    if (late) {
      return this;
    }
    List<AirSample> next = new ArrayList<>(samples);
    next.add(reading);
    return new BumpTest(start, before, sign, target, List.copyOf(next));
  }

  /** How far it is now. */
  public Progress progress(Instant now) {
    double highest = before;
    Optional<Instant> rising = Optional.empty();
    Optional<Instant> reached = Optional.empty();
    for (AirSample one : samples) {
      highest = Math.max(highest, one.value());
      if (one.value() < sign) {
        rising = Optional.empty();
      } else if (rising.isEmpty()) {
        rising = Optional.of(one.time());
      }
      if (one.value() < target) {
        reached = Optional.empty();
      } else if (reached.isPresent()) {
        return through(one.time(), rising.orElse(start), reached.get(), highest);
      } else {
        reached = Optional.of(one.time());
      }
    }
    Instant until =
        reached
            .map(at -> at.plus(CONFIRMED_WITHIN))
            .or(() -> risingUntil())
            .orElse(start.plus(STARTS_WITHIN));
    if (now.isAfter(until)) {
      return new Progress.Through(
          new BumpResult(now, false, before, highest, Duration.between(start, now)));
    }
    double newest = samples.isEmpty() ? before : samples.get(samples.size() - 1).value();
    return new Progress.Waiting(rising.isPresent(), newest, Duration.between(now, until));
  }

  private Optional<Instant> risingUntil() {
    Optional<Instant> rising = Optional.empty();
    for (AirSample one : samples) {
      if (one.value() < sign) {
        rising = Optional.empty();
      } else if (rising.isEmpty()) {
        rising = Optional.of(one.time());
      }
    }
    return rising.map(at -> at.plus(RISES_WITHIN));
  }

  private Progress through(Instant now, Instant rising, Instant reached, double highest) {
    Duration took = Duration.between(rising, reached);
    return new Progress.Through(
        new BumpResult(now, took.compareTo(RISES_WITHIN) <= 0, before, highest, took));
  }
}
