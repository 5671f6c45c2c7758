package org.layroom.dashboard.ingest;

import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import org.layroom.dashboard.store.LatestReading;
import org.layroom.dashboard.store.Sources;
import org.layroom.device.telemetry.RoomName;

/**
 * How many rooms a dashboard serves: as many as its heap holds, so that one room more is told and
 * ends nothing. 250 rooms were each checked and forecast in a heap of 192 MiB, and 600 were not.
 */
public record RoomCap(int most) {
  private static final long MIB = 1024 * 1024;

  /** What the dashboard takes before its first room. */
  private static final long EMPTY_MIB = 42;

  private static final double ROOMS_PER_MIB = 250.0 / (192 - EMPTY_MIB);

  /** At least one room. */
  public RoomCap {
    if (most < 1) {
      throw new IllegalArgumentException("most rooms " + most + ": must be 1 or more");
    }
  }

  /** As many as fit in a heap of so many bytes, at least one. */
  public static RoomCap ofHeap(long bytes) {
    return new RoomCap((int) Math.max(1, (bytes / MIB - EMPTY_MIB) * ROOMS_PER_MIB));
  }

  /** As many as fit in the heap of this process. */
  public static RoomCap ofThisProcess() {
    return ofHeap(Runtime.getRuntime().maxMemory());
  }

  /** The rooms of a store that are served: all of them, or those that were heard last. */
  public List<RoomName> served(Sources sources) {
    List<RoomName> all = sources.rooms();
    if (all.size() <= most) {
      return all;
    }
    record Heard(RoomName room, Instant last) {}
    return all.stream()
        .map(
            room ->
                new Heard(
                    room,
                    sources.latest(room).stream()
                        .map(LatestReading::received)
                        .max(Comparator.naturalOrder())
                        .orElse(Instant.EPOCH)))
        .sorted(Comparator.comparing(Heard::last).reversed())
        .limit(most)
        .map(Heard::room)
        .toList();
  }
}
