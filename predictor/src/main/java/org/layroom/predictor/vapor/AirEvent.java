package org.layroom.predictor.vapor;

import java.time.Instant;
import java.util.Optional;
import org.layroom.predictor.limits.RangeCheck;

/**
 * Something that happens to the watch over the air. Times must come from a clock that does not
 * jump: a device counts from the start of its running time.
 */
public sealed interface AirEvent {
  /** When it happened. An event earlier than the newest counts as of the newest. */
  Instant time();

  /**
   * The air at the chip, needed to trust it.
   *
   * @param temperatureC degC
   * @param humidityPct relative humidity, %
   */
  record Climate(double temperatureC, double humidityPct) {}

  /**
   * A raw signal of a chip. One that is not newer than the newest is ignored.
   *
   * @param ticks 0 to 65535; lower means more vapor
   * @param climate empty when the air sensor does not answer
   * @param doubt why the reading is doubtful in the eyes of whoever took it, such as a chip that
   *     still settles; never a sign that points toward more vapor
   */
  record Ticks(Instant time, double ticks, Optional<Climate> climate, Optional<String> doubt)
      implements AirEvent {
    public Ticks {
      RangeCheck.within("raw VOC signal", ticks, 0, 65_535, "ticks");
    }

    /** A reading that nobody doubts. */
    public Ticks(Instant time, double ticks, Optional<Climate> climate) {
      this(time, ticks, climate, Optional.empty());
    }
  }

  /**
   * A level from a device that keeps the chip's clean-air reading and has already judged the raw
   * signal. One that is not newer than the newest is ignored.
   *
   * @param timesCleanAir zero or more
   * @param pinned at the end of the chip's range, so that it is "at least"
   * @param doubt why the device doubts it
   */
  record Level(Instant time, double timesCleanAir, boolean pinned, Optional<String> doubt)
      implements AirEvent {
    public Level {
      RangeCheck.within("level", timesCleanAir, 0, 1e30, "times clean air");
    }

    /** A level that nobody doubts. */
    public Level(Instant time, double timesCleanAir, boolean pinned) {
      this(time, timesCleanAir, pinned, Optional.empty());
    }
  }

  /**
   * A reading of a photoionization detector. One that is not newer than the newest is ignored.
   *
   * @param isobutylenePpm as it reads, zero or more
   * @param raw its raw signal in any unit, to see whether it is stuck
   * @param atEnd at the upper end of its range, so that the reading is "at least"
   */
  record Ppm(Instant time, double isobutylenePpm, double raw, boolean atEnd) implements AirEvent {
    public Ppm {
      RangeCheck.within("isobutylene reading", isobutylenePpm, 0, 1e6, "ppm");
    }
  }

  /** The sensor gave no value, or one that is not to be used. */
  record Failed(Instant time, String reason) implements AirEvent {}

  /** The sensor was switched on: what it says at first is not used. */
  record PoweredOn(Instant time) implements AirEvent {}

  /**
   * Somebody starts a job.
   *
   * @param until when it is over at the latest
   * @param who said so
   * @param fanOn and said that the fan runs
   * @param respiratorOn and that the respirator is on: the warnings in the room get quieter only
   *     with both, and neither makes anything harmless
   */
  record JobStarted(Instant time, Instant until, String who, boolean fanOn, boolean respiratorOn)
      implements AirEvent {
    public JobStarted {
      if (!until.isAfter(time)) {
        throw new IllegalArgumentException(
            "the job's end " + until + " must be after its start " + time);
      }
    }
  }

  /** The job is over: the full warnings hold again. */
  record JobEnded(Instant time) implements AirEvent {}

  /** A clean-air reading was taken on purpose. */
  record CleanAirTaken(Instant time, CleanAirReading reading) implements AirEvent {}

  /** What finished jobs have taught of a chip. */
  record LevelsLearned(Instant time, LeaveLevels levels) implements AirEvent {}

  /**
   * Somebody says that solvent is being wiped: for a quarter of an hour ventilate makes no sound.
   * Nothing else gets quieter, and it is not heard while the air is unknown, during a leave, or
   * twice in an hour.
   */
  record Wiping(Instant time) implements AirEvent {}

  /**
   * A bump test, or a cup that brought no rise, gives reason to doubt the sensor.
   *
   * @param reason empty when there is none any more
   */
  record Doubted(Instant time, Optional<String> reason) implements AirEvent {}

  /** Somebody says that the sensor stands on the house side of the door: full warnings always. */
  record MovedToHouseSide(Instant time) implements AirEvent {}

  /** Somebody has seen a warning. */
  record Acknowledged(Instant time, long warningId, String who) implements AirEvent {}

  /** Nothing but time has passed. */
  record TimePassed(Instant time) implements AirEvent {}
}
