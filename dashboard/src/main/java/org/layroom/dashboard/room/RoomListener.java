package org.layroom.dashboard.room;

import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Topic;

/** Told what changes in the rooms. Calls must return soon. */
public interface RoomListener {

  /** Something in this room changed; many changes within a quarter of a second come as one call. */
  default void changed(RoomName room) {}

  /**
   * A sample came in that was not heard of before, on the ingest thread, one by one. It is in all
   * answers of the store, and may not be committed yet.
   *
   * @param backlog more than two minutes old when it came in: must not raise a warning
   */
  default void accepted(StoreEntry.Sample sample, boolean backlog) {}

  /** A device said something that is not stored, such as an alarm; on the ingest thread. */
  default void said(Channel channel, Topic kind, byte[] body) {}
}
