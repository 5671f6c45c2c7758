package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.exposure.AirAverage;
import org.layroom.predictor.exposure.AirSample;
import org.layroom.predictor.exposure.RollingAverage;

/**
 * What one sensor has told: averages of the level, and the signs that it is not to be believed.
 * Signs that point toward cleaner air are faults; the same signs toward more vapor are the message.
 * Immutable.
 *
 * @param quarter of the level (times clean air, or ppm as styrene), never of the ticks
 * @param minute the same over a minute
 * @param earlier minute means of the last ten minutes and a little more
 * @param newest the newest reading that counted
 * @param heard when anything came from the sensor
 * @param poweredOn when it was switched on, where known
 * @param fault why it says nothing; empty when it does
 * @param climate why its value is doubtful; empty when it is not
 * @param pinnedSince since when at the end of its range toward vapor
 * @param leapAt when it last made a huge step toward vapor
 * @param held a reading that leapt and waits for the next one to say the same
 */
record SensorFeed(
    RollingAverage quarter,
    RollingAverage minute,
    List<AirSample> earlier,
    Optional<Newest> newest,
    Optional<Instant> heard,
    Optional<Instant> poweredOn,
    Optional<String> fault,
    Optional<String> climate,
    Optional<Instant> pinnedSince,
    Optional<Instant> leapAt,
    Optional<Held> held) {
  static final Duration MINUTE = Duration.ofMinutes(1);
  static final Duration LOOK_BACK = Duration.ofMinutes(10);
  private static final Duration DISCARDED = Duration.ofMinutes(1);
  private static final Duration STUCK = Duration.ofMinutes(2);

  /** Five minutes' rise by this factor counts as rising (this project's choice). */
  private static final double RISING = 1.05;

  private static final double LEAP_TICKS = 5000;
  private static final double CLEAN_END_TICKS = 65_535;

  /**
   * The newest reading.
   *
   * @param sameSince since when the raw signal has been the same
   * @param sure the reading before it agreed, so that a leap from it means something
   */
  record Newest(Instant time, double raw, double level, Instant sameSince, boolean sure) {}

  /** Where a reading leaps to. */
  enum Leap {
    NONE,
    /** Far from a reading that nothing has confirmed: one of the two is wrong. */
    FROM_UNSURE,
    TOWARD_VAPOR,
    TOWARD_CLEAN
  }

  /**
   * A reading that leapt. Vapor that comes within seconds is there at the next reading too; an
   * error on the wire is not (one corrupted word in 256 passes a checksum of eight bits).
   */
  record Held(Told told, Leap leap) {}

  static SensorFeed none() {
    return new SensorFeed(
        RollingAverage.shortTerm(),
        RollingAverage.over(MINUTE),
        List.of(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.of("no reading yet"),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty());
  }

  /**
   * One reading, already turned into a level.
   *
   * @param judged the raw signal was judged elsewhere
   */
  record Told(
      Instant time,
      double raw,
      double level,
      boolean chip,
      boolean atEnd,
      boolean judged,
      Optional<String> climate) {}

  SensorFeed plus(Told told) {
    if (heard.isPresent() && !told.time().isAfter(heard.get())) {
      return this;
    }
    SensorFeed heardNow = new SensorFeedBuilder(this).heard(told.time()).feed();
    if (poweredOn.isPresent()
        && Duration.between(poweredOn.get(), told.time()).compareTo(DISCARDED) < 0) {
      return heardNow
          .told(told.climate())
          .failing("warming up: the first minute after power-on is not used");
    }
    Leap leap = leap(told);
    if (leap == Leap.NONE) {
      return heardNow.notHeld().told(told.climate()).steady(told);
    }
    if (leap == Leap.FROM_UNSURE) {
      return heardNow.notHeld().begunAnew().told(told.climate()).steady(told);
    }
    if (held.filter(one -> one.leap() == leap).isPresent()) {
      return heardNow.notHeld().told(told.climate()).leapt(held.get().told(), told, leap);
    }
    return heardNow.holding(new Held(told, leap));
  }

  /** Where this reading leaps to, against the newest that counted. */
  private Leap leap(Told told) {
    if (told.atEnd() && pinnedSince.isEmpty()) {
      return Leap.TOWARD_VAPOR;
    }
    if (!told.chip() || told.judged() || newest.isEmpty()) {
      return Leap.NONE;
    }
    double step = told.raw() - newest.get().raw();
    if (Math.abs(step) <= LEAP_TICKS) {
      return Leap.NONE;
    }
    if (!newest.get().sure()) {
      return Leap.FROM_UNSURE;
    }
    return step < 0 ? Leap.TOWARD_VAPOR : Leap.TOWARD_CLEAN;
  }

  private SensorFeed begunAnew() {
    return new SensorFeedBuilder(this)
        .averages(RollingAverage.shortTerm(), RollingAverage.over(MINUTE), List.of())
        .feed();
  }

  /** Two in a row that leap to different sides tell nothing of the air. */
  private SensorFeed holding(Held next) {
    return new SensorFeedBuilder(this)
        .held(Optional.of(next))
        .fault(held.isPresent() ? Optional.of("the raw signal leaps to and fro") : fault)
        .feed();
  }

  private SensorFeed notHeld() {
    return new SensorFeedBuilder(this).held(Optional.empty()).feed();
  }

  private SensorFeed told(Optional<String> doubt) {
    return new SensorFeedBuilder(this).climate(doubt).feed();
  }

  private SensorFeed steady(Told told) {
    return told.chip() && !told.judged() && told.raw() >= CLEAN_END_TICKS
        ? failing("at the clean end of its range")
        : judged(told, false);
  }

  /** A leap that the next reading has confirmed. */
  private SensorFeed leapt(Told first, Told second, Leap leap) {
    if (leap == Leap.TOWARD_VAPOR) {
      return judged(first, true).judged(second, true);
    }
    return withNewest(second)
        .failing(
            second.raw() >= CLEAN_END_TICKS
                ? "at the clean end of its range"
                : "dropped faster than air in a room can, so it starts again");
  }

  private SensorFeed judged(Told told, boolean leap) {
    SensorFeed next = withNewest(told);
    boolean stuck =
        !told.judged()
            && Duration.between(next.newest.orElseThrow().sameSince(), told.time()).compareTo(STUCK)
                >= 0;
    boolean high = told.chip() && told.level() >= LeaveLevels.LOWEST;
    if (stuck && !high && !told.atEnd()) {
      return next.failing("stuck: the same raw value for two minutes");
    }
    AirSample sample = new AirSample(told.time(), told.level());
    RollingAverage nextMinute = minute.plus(sample);
    List<AirSample> minutes = remembered(nextMinute, told.time());
    boolean flat = told.chip() && FlatEnd.reached(minutes, pinnedSince.isPresent());
    boolean pinned = told.atEnd() || (stuck && high) || flat;
    return new SensorFeedBuilder(next)
        .averages(quarter.plus(sample), nextMinute, minutes)
        .fault(Optional.empty())
        .pinnedSince(pinned ? Optional.of(pinnedSince.orElse(told.time())) : Optional.empty())
        .leapAt(leap ? Optional.of(told.time()) : leapAt)
        .feed();
  }

  private List<AirSample> remembered(RollingAverage mean, Instant now) {
    Optional<AirAverage> value = mean.at(now);
    boolean soon =
        !earlier.isEmpty()
            && Duration.between(earlier.get(earlier.size() - 1).time(), now).compareTo(MINUTE) < 0;
    if (value.isEmpty() || soon) {
      return earlier;
    }
    List<AirSample> next = new ArrayList<>(earlier.size() + 1);
    for (AirSample one : earlier) {
      if (!one.time().isBefore(now.minus(LOOK_BACK).minus(MINUTE).minus(MINUTE))) {
        next.add(one);
      }
    }
    next.add(new AirSample(now, value.get().value()));
    return List.copyOf(next);
  }

  /**
   * Whether the minute's mean has risen in each half of the last ten minutes: a single step is no
   * rise that goes on.
   */
  boolean rising(Instant now, double minuteLevel) {
    OptionalDouble ten = before(now, LOOK_BACK);
    OptionalDouble five = before(now, LOOK_BACK.dividedBy(2));
    return ten.isPresent()
        && five.isPresent()
        && five.getAsDouble() >= RISING * ten.getAsDouble()
        && minuteLevel >= RISING * five.getAsDouble();
  }

  /** The minute's mean of about so long before; empty when it is not known. */
  private OptionalDouble before(Instant now, Duration back) {
    Instant from = now.minus(back).minus(MINUTE).minus(MINUTE);
    Instant to = now.minus(back);
    return earlier.stream()
        .filter(one -> !one.time().isBefore(from) && !one.time().isAfter(to))
        .mapToDouble(AirSample::value)
        .reduce((older, newer) -> newer);
  }

  private SensorFeed withNewest(Told told) {
    boolean same = newest.isPresent() && Double.compare(newest.get().raw(), told.raw()) == 0;
    Instant since = same ? newest.get().sameSince() : told.time();
    boolean sure = newest.filter(one -> Math.abs(one.raw() - told.raw()) <= LEAP_TICKS).isPresent();
    return new SensorFeedBuilder(this)
        .newest(Optional.of(new Newest(told.time(), told.raw(), told.level(), since, sure)))
        .feed();
  }

  /** No value: what was averaged before no longer counts as knowledge of the air. */
  SensorFeed failing(String reason) {
    return new SensorFeedBuilder(this)
        .averages(RollingAverage.shortTerm(), RollingAverage.over(MINUTE), List.of())
        .fault(Optional.of(reason))
        .pinnedSince(Optional.empty())
        .held(Optional.empty())
        .feed();
  }

  /**
   * The sensor gave nothing. A single miss is no fault: only when nothing has come for a while.
   *
   * @param silence how long nothing may come
   */
  SensorFeed failed(Instant time, String reason, Duration silence) {
    boolean single =
        fault.isEmpty()
            && newest
                .filter(one -> Duration.between(one.time(), time).compareTo(silence) <= 0)
                .isPresent();
    return single ? this : new SensorFeedBuilder(this).fault(Optional.of(reason)).feed();
  }

  SensorFeed poweredOn(Instant time) {
    return new SensorFeedBuilder(none())
        .heard(time)
        .poweredOn(Optional.of(time))
        .leapAt(leapAt)
        .feed();
  }
}
