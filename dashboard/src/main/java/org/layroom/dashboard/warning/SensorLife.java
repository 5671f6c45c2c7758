package org.layroom.dashboard.warning;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.layroom.predictor.vapor.SensorProof;

/**
 * What is known of one device's vapor sensor beside its readings. Times are by the wall clock.
 *
 * @param proof what speaks for it still sensing vapor
 * @param on how long it has measured, as far as it was counted
 * @param tester who did its newest bump test; empty before one
 */
public record SensorLife(SensorProof proof, Duration on, Optional<Tester> tester) {
  /**
   * Who did a bump test.
   *
   * @param test the id under which it was begun
   * @param ppm its levels are ppm as styrene, not times clean air
   * @param alarmSeen whether lamp, buzzer and fan came on; empty until somebody has said so
   */
  public record Tester(String test, String who, boolean ppm, Optional<Boolean> alarmSeen) {
    Tester saying(boolean seen) {
      return new Tester(test, who, ppm, Optional.of(seen));
    }
  }

  SensorLife with(SensorProof next) {
    return new SensorLife(next, on, tester);
  }

  SensorLife with(Tester by) {
    return new SensorLife(proof, on, Optional.of(by));
  }

  SensorLife longerOn(Duration more) {
    return new SensorLife(proof, on.plus(more), tester);
  }

  /** Why a bump test is asked for, in words; empty when none is. */
  public Optional<String> asked(Instant now) {
    return proof
        .asked(now)
        .or(
            () ->
                tester
                    .flatMap(Tester::alarmSeen)
                    .filter(seen -> !seen)
                    .map(
                        seen ->
                            "In the last bump test the lamp, the buzzer or the fan stayed off. Run"
                                + " \"sudo layroom-device check --lamps\" on the device, then do a"
                                + " bump test."));
  }
}
