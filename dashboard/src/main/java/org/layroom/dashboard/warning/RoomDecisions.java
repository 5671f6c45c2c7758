package org.layroom.dashboard.warning;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.device.telemetry.RoomName;

/**
 * What was decided about the air of each room, and the job under way there, as it is kept. Not for
 * several threads.
 */
final class RoomDecisions {
  private final WatchStore store;
  private final Map<RoomName, AirSettings> settings = new HashMap<>();
  private final Map<RoomName, Optional<AirJob>> jobs = new HashMap<>();

  RoomDecisions(WatchStore store) {
    this.store = store;
  }

  AirSettings settings(RoomName room) {
    return settings.computeIfAbsent(room, store::settings);
  }

  void keep(RoomName room, AirSettings decided) {
    settings.put(room, decided);
    store.keep(room, decided);
  }

  Optional<AirJob> job(RoomName room) {
    return jobs.computeIfAbsent(room, store::job);
  }

  /** Keeps the job under way, or that there is none. */
  void keep(RoomName room, Optional<AirJob> job) {
    jobs.put(room, job);
    store.keep(room, job);
  }

  /** The rooms whose job was ever asked for. */
  List<RoomName> rooms() {
    return List.copyOf(jobs.keySet());
  }
}
