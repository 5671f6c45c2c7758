package org.layroom.dashboard.answer.job;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.layroom.dashboard.answer.RoomAnswers;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Topic;

/**
 * Says on MQTT, retained, what should be heard of each room's jobs: when it changes, and every
 * minute of the room's time while there is anything, with {@code validUntil}.
 */
public final class JobBoard implements AutoCloseable {
  private static final Duration EVERY = Duration.ofMinutes(1);

  private final DashboardCore core;
  private final RoomAnswers answers;
  private final JobAnswers jobs;
  private final Map<RoomName, Boolean> said = new ConcurrentHashMap<>();
  private final Pace.Scheduled task;

  private JobBoard(DashboardCore core, RoomAnswers answers, JobAnswers jobs, Pace pace) {
    this.core = core;
    this.answers = answers;
    this.jobs = jobs;
    this.task = pace.every(EVERY, this::sayAll);
  }

  /** Begins to say the news of jobs. */
  public static JobBoard start(
      DashboardCore core, RoomAnswers answers, JobAnswers jobs, Pace pace) {
    return new JobBoard(core, answers, jobs, pace);
  }

  private void sayAll() {
    for (RoomName room : answers.rooms()) {
      ObjectNode open = jobs.open(room);
      boolean something = !open.path("notices").isEmpty();
      if (something || Boolean.TRUE.equals(said.put(room, something))) {
        said.put(room, something);
        open.remove("jobs");
        open.put("validUntil", answers.now(room).plus(RoomAnswers.VERDICT_STANDS).toString());
        core.publish(Topic.jobs(room), open.toString().getBytes(StandardCharsets.UTF_8), true);
      }
    }
  }

  @Override
  public void close() {
    task.cancel();
  }
}
