package org.layroom.dashboard.answer.job;

import java.time.Instant;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.layroom.dashboard.decision.AirJob;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobBook;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.warning.AirWarnings;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.emission.Protection;

/** Tells the warnings of the air when something is mixed, and until when vapor comes of it. */
public final class JobAirEvents implements Consumer<JobBook.Outcome.Taken> {
  private static final int LONGEST_NAME = 60;

  private final JobAnswers jobs;
  private final AirWarnings warnings;
  private final Supplier<Instant> now;
  private final ProtectionAnswers protection;

  public JobAirEvents(JobAnswers jobs, AirWarnings warnings, Supplier<Instant> now) {
    this.jobs = jobs;
    this.warnings = warnings;
    this.now = now;
    this.protection = new ProtectionAnswers(jobs.book(), warnings, now);
  }

  @Override
  public void accept(JobBook.Outcome.Taken taken) {
    JobEvent event = taken.event().event();
    if (!event.moves() || event instanceof JobEvent.Started) {
      return;
    }
    if (event instanceof JobEvent.Mixed mixed) {
      warnings.sensors().cupMixed(taken.room(), taken.event().time(), mixed.cup().materialGrams());
    } else if (event instanceof JobEvent.Undone || event instanceof JobEvent.GivenUp) {
      warnings.sensors().noCup(taken.room());
    }
    Optional<Instant> until = jobs.vaporUntil(taken.room());
    if (until.isEmpty()) {
      warnings.jobEnded(taken.room());
    } else if (event instanceof JobEvent.Mixed) {
      Job job = taken.job();
      String name = job.part().length() > LONGEST_NAME ? job.part().substring(0, 60) : job.part();
      Instant started =
          taken.event().time().isBefore(until.get()) ? taken.event().time() : now.get();
      warnings.jobStarted(
          taken.room(),
          on(taken.room(), job, new AirJob(started, until.get(), name, false, false)));
    }
  }

  /** What was said at a cup counts for every part in the room, else what its own start says. */
  private AirJob on(RoomName room, Job job, AirJob air) {
    Optional<Protection> said = protection.standing(room);
    return new AirJob(
        air.started(),
        air.until(),
        air.who(),
        said.map(Protection::fanOn).orElse(job.started().fanOn()),
        said.map(Protection::respiratorOn).orElse(job.started().respiratorOn()));
  }
}
