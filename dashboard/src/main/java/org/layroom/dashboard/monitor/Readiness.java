package org.layroom.dashboard.monitor;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.mqtt.LinkState;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.LiveValue;

/** Whether the dashboard does its work now, and what stands in the way. */
public final class Readiness {
  /** A reading comes every ten seconds; a device that restarts is back within minutes. */
  static final Duration OLDEST_READING = Duration.ofMinutes(10);

  /** About three days of one room, with a commit's journal. */
  static final long LEAST_FREE_BYTES = 200L << 20;

  private final DashboardCore core;
  private final Path data;

  /**
   * Looks at a dashboard.
   *
   * @param data its data folder
   */
  public Readiness(DashboardCore core, Path data) {
    this.core = core;
    this.data = data;
  }

  /** What stands in the way, in words; empty when it is ready. */
  public List<String> reasons() {
    List<String> reasons = new ArrayList<>();
    LinkState link = core.link();
    if (!link.connected()) {
      reasons.add(
          "There is no connection to the broker" + link.trouble().map(t -> ": " + t).orElse("."));
    }
    if (core.storeFailing()) {
      reasons.add(
          "The store cannot be written. "
              + core.waitingForCommit()
              + " messages wait; devices with an outbox keep theirs.");
    }
    long free = freeBytes();
    if (free >= 0 && free < LEAST_FREE_BYTES) {
      reasons.add("The disk has " + (free >> 20) + " MB left. Make room, or move the data folder.");
    }
    Optional<Duration> newest = newestAge();
    if (newest.isEmpty()) {
      reasons.add("No reading has come in yet.");
    } else if (newest.get().compareTo(OLDEST_READING) > 0) {
      reasons.add(
          "The newest reading is "
              + newest.get().toMinutes()
              + " min old. Check the device's power and network.");
    }
    return reasons;
  }

  /** What is free where the data is; -1 when the system does not say. */
  long freeBytes() {
    try {
      return Files.getFileStore(data).getUsableSpace();
    } catch (IOException e) {
      return -1;
    }
  }

  private Optional<Duration> newestAge() {
    return core.rooms().stream()
        .flatMap(room -> core.snapshot(room).values().values().stream())
        .map(LiveValue::age)
        .min(Duration::compareTo);
  }
}
