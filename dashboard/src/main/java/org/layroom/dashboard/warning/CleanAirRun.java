package org.layroom.dashboard.warning;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.CleanAirProcedure;
import org.layroom.predictor.vapor.CleanAirProcedure.Progress;
import org.layroom.predictor.vapor.CleanAirReading;

/** One clean-air procedure under way. Immutable. */
public final class CleanAirRun {
  private final DeviceName device;
  private final Instant begun;
  private final CleanAirProcedure procedure;

  /**
   * What the person says before it begins.
   *
   * @param airedToOutdoors the room is being aired from outdoors
   * @param noOpenResin no can, cup or solvent is open
   * @param nothingCuring no part in the room was laid up within the last days
   */
  public record Promised(boolean airedToOutdoors, boolean noOpenResin, boolean nothingCuring) {}

  /** What the person is to do. */
  public enum Step {
    /** Wait; the words say what for. */
    WAIT,
    /** It cannot be taken like this; the words say what to change. */
    CHANGE,
    /** It can be taken. */
    TAKE,
    /** It can be taken when the person confirms it; the words say why to doubt it. */
    CONFIRM
  }

  /**
   * How far it is.
   *
   * @param words at least one sentence
   * @param left the least that is left to wait; zero when it is through
   * @param reading what would be taken
   */
  public record State(
      DeviceName device,
      Instant begun,
      Step step,
      List<String> words,
      Duration left,
      Optional<CleanAirReading> reading) {}

  private CleanAirRun(DeviceName device, Instant begun, CleanAirProcedure procedure) {
    this.device = device;
    this.begun = begun;
    this.procedure = procedure;
  }

  static CleanAirRun begun(Instant now, Promised promised, DeviceWatch watch) {
    return new CleanAirRun(
        watch.channel().device(),
        now,
        CleanAirProcedure.begun(
            now,
            new CleanAirProcedure.Promises(
                promised.airedToOutdoors(), promised.noOpenResin(), promised.nothingCuring()),
            Optional.empty(),
            watch.cleanAir()));
  }

  CleanAirRun plus(AirEvent.Ticks ticks) {
    return new CleanAirRun(device, begun, procedure.plus(ticks));
  }

  /** The reading, when it may be taken. */
  Optional<CleanAirReading> reading(Instant now, boolean confirmed) {
    Progress progress = procedure.progress(now);
    if (progress instanceof Progress.Taken taken) {
      return Optional.of(taken.reading());
    }
    return confirmed && progress instanceof Progress.Doubtful doubtful
        ? Optional.of(doubtful.reading())
        : Optional.empty();
  }

  State state(Instant now, WatchClock clock) {
    Progress progress = procedure.progress(now);
    if (progress instanceof Progress.Waiting waiting) {
      return state(clock, Step.WAIT, List.of(waiting.words()), waiting.left(), Optional.empty());
    } else if (progress instanceof Progress.Refused refused) {
      return state(clock, Step.CHANGE, refused.reasons(), Duration.ZERO, Optional.empty());
    } else if (progress instanceof Progress.Doubtful doubtful) {
      return state(
          clock,
          Step.CONFIRM,
          List.of(doubtful.words()),
          Duration.ZERO,
          Optional.of(doubtful.reading()));
    }
    return state(
        clock,
        Step.TAKE,
        List.of("The signal is steady: take the reading."),
        Duration.ZERO,
        Optional.of(((Progress.Taken) progress).reading()));
  }

  private State state(
      WatchClock clock,
      Step step,
      List<String> words,
      Duration left,
      Optional<CleanAirReading> reading) {
    return new State(device, clock.wall(begun), step, words, left, reading);
  }
}
