package org.layroom.dashboard.store;

import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.RoomName;

/**
 * Questions about the past of one series. Only good values take part, and always those of one
 * device: two devices are never averaged.
 */
public interface History {
  /** The most buckets one answer has. */
  int MOST_POINTS = 5000;

  /** One good value. */
  record Value(Instant time, double value) {}

  /** Takes one good value after the other. */
  interface ValueTaker {
    void take(Instant time, double value);
  }

  /**
   * A series between two times, down-sampled to at most {@code points} buckets of one width. Up to
   * 36 hours come from raw readings; longer stretches from one-minute roll-ups, then the first and
   * last bucket are widened to whole minutes; buckets of two hours and more from hourly ones, then
   * each begins at a full hour (UTC) unless there are only a few. Where a finer level has been
   * dropped, the next coarser one answers.
   *
   * @param from first instant, included
   * @param to end, not included
   * @param points 1 to {@value #MOST_POINTS}
   * @throws IllegalArgumentException when the stretch is empty or points is out of range
   */
  SeriesHistory between(RoomName room, String series, Instant from, Instant to, int points);

  /** How many samples (rows, whatever is in them) of a room lie in {@code [from, to)}. */
  long countReadings(RoomName room, Instant from, Instant to);

  /** One summary for each calendar day that has good values, from raw readings. */
  List<DaySummary> daily(RoomName room, String series, ZoneId zone);

  /** Streams the good raw values of a series in {@code [from, to)}, in order of time. */
  Optional<DeviceName> values(
      RoomName room, String series, Instant from, Instant to, ValueTaker taker);
}
