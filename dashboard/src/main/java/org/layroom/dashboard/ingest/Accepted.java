package org.layroom.dashboard.ingest;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.telemetry.RoomName;

/**
 * What came in one message and waits for its commit.
 *
 * @param toAcknowledge the message, where the broker is told only after the commit
 * @param dueAt when it is committed at the latest, on the running clock
 * @param kib what it takes of the room that there is
 */
record Accepted(
    List<StoreEntry> entries, Optional<Inbound> toAcknowledge, Duration dueAt, int kib) {
  Accepted {
    entries = List.copyOf(entries);
  }

  /** Whether a question about a room and a time would miss it. */
  boolean concerns(RoomName room, Instant from, Instant to) {
    return entries.stream()
        .anyMatch(entry -> entry.channel().room().equals(room) && lies(entry, from, to));
  }

  private static boolean lies(StoreEntry entry, Instant from, Instant to) {
    if (entry instanceof StoreEntry.Sample sample) {
      Instant time = sample.times().corrected();
      return !time.isBefore(from) && time.isBefore(to);
    }
    return true;
  }
}
