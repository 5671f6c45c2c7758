package org.layroom.dashboard.app;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.store.Retention;
import org.layroom.dashboard.store.Spared;
import org.layroom.dashboard.store.Store;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.RoomName;
import org.tinylog.Logger;

/**
 * Drops what is older than the settings keep, a few times a day. Of a part that is not finished
 * nothing is dropped; of a finished one minutes and hours stay, since its record is drawn from
 * them. Both reach from a day before the part was begun to a day after its end.
 */
final class OldReadings {
  private static final Duration EVERY = Duration.ofHours(6);
  private static final Duration AROUND = Duration.ofDays(1);

  private final Store store;
  private final Retention retention;
  private final Function<RoomName, List<Job>> jobs;
  private final Pace pace;

  OldReadings(Store store, Retention retention, Function<RoomName, List<Job>> jobs, Pace pace) {
    this.store = store;
    this.retention = retention;
    this.jobs = jobs;
    this.pace = pace;
  }

  /** Says what is kept and what it costs, and drops from now on. */
  Pace.Scheduled start() {
    Logger.info("{}", retention.words());
    return pace.every(EVERY, this::drop);
  }

  void drop() {
    Instant now = pace.now();
    List<Spared> open = new ArrayList<>();
    List<Spared> finished = new ArrayList<>();
    for (RoomName room : store.sources().rooms()) {
      for (Job job : jobs.apply(room)) {
        Instant from = job.begunAt().minus(AROUND);
        Instant end = job.endedAt().orElse(now).plus(AROUND);
        (job.open() ? open : finished).add(new Spared(room, from, end.isBefore(from) ? from : end));
      }
    }
    for (String dropped : retention.drop(store.archive(), now, open, finished)) {
      Logger.info("Dropped {}", dropped);
    }
  }
}
