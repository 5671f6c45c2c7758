package org.layroom.dashboard.warning;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.layroom.device.pace.WatchClock;
import org.layroom.predictor.exposure.AirSample;
import org.layroom.predictor.vapor.BumpResult;
import org.layroom.predictor.vapor.BumpTest;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.VaporWatch;

/**
 * A bump test under way, and who does it. Immutable.
 *
 * @param tester under which id, by whom
 */
public record BumpRun(BumpTest test, SensorLife.Tester tester) {
  /**
   * How far it is.
   *
   * @param begun by the wall clock
   * @param rising the first sign of a rise was seen
   * @param level the newest level: times clean air, or ppm as styrene
   * @param target what it must reach
   * @param left how long it may last yet
   */
  public record State(Instant begun, boolean rising, double level, double target, Duration left) {}

  static BumpRun begun(VaporWatch watch, double before, String id, String who) {
    VaporSensor sensor = watch.settings().sensor();
    return new BumpRun(
        BumpTest.begun(watch.now(), sensor, before),
        new SensorLife.Tester(id, who, sensor instanceof VaporSensor.Pid, Optional.empty()));
  }

  BumpRun plus(AirSample reading) {
    return new BumpRun(test.plus(reading), tester);
  }

  Optional<BumpResult> result(Instant now) {
    return test.progress(now) instanceof BumpTest.Progress.Through through
        ? Optional.of(through.result())
        : Optional.empty();
  }

  State state(Instant now, WatchClock clock) {
    Instant begun = clock.wall(test.start());
    return test.progress(now) instanceof BumpTest.Progress.Waiting waiting
        ? new State(begun, waiting.rising(), waiting.now(), test.target(), waiting.left())
        : new State(begun, false, 0, test.target(), Duration.ZERO);
  }
}
