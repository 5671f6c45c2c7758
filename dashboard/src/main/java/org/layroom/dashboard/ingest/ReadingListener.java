package org.layroom.dashboard.ingest;

import java.util.List;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Topic;

/**
 * Told what came in, before it is committed, on the ingest thread; and what has been committed, on
 * the one that commits. Must return soon; an exception is logged and goes no further.
 */
public interface ReadingListener {

  /**
   * A sample that was not heard of before; a question to the {@link CurrentStore} finds it.
   *
   * @param backlog more than two minutes old when it came in: must not raise a warning
   */
  default void accepted(StoreEntry.Sample sample, boolean backlog) {}

  /** What a device said of itself. */
  default void status(StoreEntry.Status status) {}

  /** Up to where outboxes are stored now, after a batch that spoke of them. */
  default void marks(List<OutboxMark> marks) {}

  /** A message of another kind (such as an alarm), at most 64 KiB, not stored. */
  default void other(Channel channel, Topic kind, byte[] body) {}
}
