package org.layroom.dashboard.alarms;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.LeaveLevels;

/** The shipped rule as one floor of the house runs it, for all devices of a shop. */
public interface Floor extends AutoCloseable {
  /** {@code device} or {@code dashboard}. */
  String name();

  /** Goes on to a moment and takes what happens at it. */
  void take(Instant now, Moment moment);

  /** What stands now, the warning of each device that has one. */
  List<Standing> standing();

  /** Somebody has seen a warning. */
  void acknowledge(Instant now, Standing seen);

  /** The levels that this floor has learned for a device; empty where it learns nothing. */
  default Optional<LeaveLevels> learned(String device) {
    return Optional.empty();
  }

  /** What another floor has learned for a device. */
  default void told(String device, LeaveLevels levels) {}

  @Override
  void close();

  /** A warning of a device. */
  record Standing(String device, long id, AirCall call, AirWarning.Sound sound) {}
}
