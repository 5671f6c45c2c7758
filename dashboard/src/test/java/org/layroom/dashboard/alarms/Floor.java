package org.layroom.dashboard.alarms;

import java.time.Instant;
import java.util.List;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirWarning;

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

  @Override
  void close();

  /** A warning of a device. */
  record Standing(String device, long id, AirCall call, AirWarning.Sound sound) {}
}
