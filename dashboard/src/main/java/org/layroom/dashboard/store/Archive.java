package org.layroom.dashboard.store;

import java.time.Instant;
import java.util.List;
import java.util.function.Consumer;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;

/** Whole rows as they are kept: export, rejected values, and how far an outbox has come. */
public interface Archive {
  /** Takes all readings of one moment. */
  interface ReadingsTaker {
    void take(Instant time, List<Reading> readings);
  }

  /** Streams the rows of a room in {@code [from, to)}, in order of time; few are in memory. */
  void export(RoomName room, Instant from, Instant to, Consumer<ArchivedSample> taker);

  /**
   * Streams the rows of one device in {@code [from, to)}, in order of time, good and doubtful
   * values and faults alike.
   */
  void readings(Channel channel, Instant from, Instant to, ReadingsTaker taker);

  /** Every value of a room that was kept as rejected, oldest first. */
  List<RejectedRecord> rejected(RoomName room);

  /** The sequence numbers of an outbox that have a row of readings, in the order of their times. */
  List<Long> sequences(Channel channel, String outbox);

  /**
   * Drops what one level holds from before an instant, but for what is spared. Raw rows and
   * rejected values go only when they were also received before it, so that a backlog which comes
   * late is there for as long as one that came in time. A coarser level never misses what was
   * dropped from a finer one; marks, events and settings stay for ever. Dropped in portions, so
   * that no reading waits for it long.
   *
   * @return how many rows were dropped
   */
  int dropBefore(Level level, Instant instant, List<Spared> spared);
}
