package org.layroom.dashboard.answer.job;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.layroom.dashboard.answer.RoomAnswers;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Topic;

/**
 * Says on MQTT, retained, what should be heard of each room's jobs: every minute of the room's
 * time, and whenever the broker is connected anew, while there is anything, with {@code
 * validUntil}, and once more when there is nothing any more.
 */
public final class JobPublisher implements AutoCloseable {
  private static final Duration EVERY = Duration.ofMinutes(1);
  private static final Duration LOOK = Duration.ofSeconds(5);

  private final DashboardCore core;
  private final RoomAnswers answers;
  private final JobAnswers jobs;
  private final Set<RoomName> said = ConcurrentHashMap.newKeySet();
  private final List<Pace.Scheduled> tasks;
  private volatile long connects;

  private JobPublisher(DashboardCore core, RoomAnswers answers, JobAnswers jobs, Pace pace) {
    this.core = core;
    this.answers = answers;
    this.jobs = jobs;
    this.tasks = List.of(pace.every(EVERY, this::sayAll), pace.every(LOOK, this::look));
  }

  /** Begins to say the news of jobs. */
  public static JobPublisher start(
      DashboardCore core, RoomAnswers answers, JobAnswers jobs, Pace pace) {
    return new JobPublisher(core, answers, jobs, pace);
  }

  private void look() {
    if (core.link().connects() != connects) {
      sayAll();
    }
  }

  private void sayAll() {
    connects = core.link().connects();
    for (RoomName room : answers.rooms()) {
      ObjectNode news = jobs.news(room);
      boolean nothing = news.path("notices").isEmpty();
      boolean ended = nothing && said.remove(room);
      if (!nothing) {
        said.add(room);
      }
      if (!nothing || ended) {
        news.put("validUntil", answers.now(room).plus(RoomAnswers.VERDICT_STANDS).toString());
        core.publish(Topic.jobs(room), news.toString().getBytes(StandardCharsets.UTF_8), true);
      }
    }
  }

  @Override
  public void close() {
    tasks.forEach(Pace.Scheduled::cancel);
  }
}
