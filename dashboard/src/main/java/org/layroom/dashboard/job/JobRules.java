package org.layroom.dashboard.job;

import java.util.List;
import java.util.Optional;

/** Which event fits a job as it stands. */
final class JobRules {
  private final Job job;

  JobRules(Job job) {
    this.job = job;
  }

  Optional<String> refusal(JobEvent event) {
    if (event instanceof JobEvent.Noted || event instanceof JobEvent.Seen) {
      return Optional.empty();
    }
    if (event instanceof JobEvent.Undone undone) {
      return undo(undone.event());
    }
    if (event instanceof JobEvent.Gelled gelled) {
      return gelled(gelled.mix());
    }
    if (!job.open()) {
      return Optional.of(
          "This part is " + job.state().words() + " already. Undo that first if it was a mistake.");
    }
    if (event instanceof JobEvent.Started) {
      return Optional.of("This job was started already.");
    }
    if (event instanceof JobEvent.StepAdded added) {
      return job.steps().stream().anyMatch(step -> step.planned().id().equals(added.step().id()))
          ? Optional.of("There is a step " + added.step().id() + " already.")
          : Optional.empty();
    }
    if (event instanceof JobEvent.GivenUp) {
      return Optional.empty();
    }
    return step(event);
  }

  private Optional<String> step(JobEvent event) {
    if (event instanceof JobEvent.Applied applied) {
      return onOpen(applied.step(), this::apply);
    }
    if (event instanceof JobEvent.Mixed mixed) {
      return onOpen(mixed.step(), JobRules::mix);
    }
    if (event instanceof JobEvent.FilmRead film) {
      return onOpen(film.step(), step -> Optional.empty());
    }
    if (event instanceof JobEvent.Checked checked) {
      return onOpen(checked.step(), step -> Optional.empty());
    }
    if (event instanceof JobEvent.Skipped skipped) {
      return onOpen(skipped.step(), JobRules::skip);
    }
    if (event instanceof JobEvent.Done done) {
      return onOpen(done.step(), JobRules::done);
    }
    return Optional.of("This cannot be done with a job.");
  }

  private interface Rule {
    Optional<String> refusal(Step step);
  }

  private Optional<String> onOpen(String id, Rule rule) {
    Optional<Step> found =
        job.steps().stream().filter(step -> step.planned().id().equals(id)).findFirst();
    if (found.isEmpty()) {
      return Optional.of("There is no step " + id + " in this job.");
    }
    Step step = found.get();
    if (step.over()) {
      return Optional.of(
          "The step \""
              + step.planned().name()
              + "\" is "
              + (step.skipped() ? "left out" : "done")
              + " already. Undo that first if it was a mistake.");
    }
    return rule.refusal(step);
  }

  private Optional<String> apply(Step step) {
    if (step.planned().kind().waits().isEmpty()) {
      return Optional.of("\"" + step.planned().name() + "\" is no coat that is wiped or sprayed.");
    }
    return step.applied().isPresent()
        ? Optional.of("\"" + step.planned().name() + "\" is on already, and its wait runs.")
        : Optional.empty();
  }

  private static Optional<String> mix(Step step) {
    return step.planned().kind().isMixed()
        ? Optional.empty()
        : Optional.of("Nothing is mixed for \"" + step.planned().name() + "\".");
  }

  private static Optional<String> skip(Step step) {
    return step.running()
        ? Optional.of(
            "\"" + step.planned().name() + "\" has begun; it can be done, not left out any more.")
        : Optional.empty();
  }

  private static Optional<String> done(Step step) {
    StepKind kind = step.planned().kind();
    String name = "\"" + step.planned().name() + "\"";
    if (kind.waits().isPresent() && step.applied().isEmpty()) {
      return Optional.of(name + " has not been put on yet; leave it out if it is not wanted.");
    }
    if (kind.isMixed() && step.mixes().isEmpty()) {
      return Optional.of(
          "Nothing has been mixed for " + name + " yet; leave it out if it is not wanted.");
    }
    if (kind == StepKind.DEMOLD && step.check().filter(JobEvent.Checked::hard).isEmpty()) {
      return Optional.of(
          "Check by hand first: fingernail on the flange, a tap, no give. A part that is pulled"
              + " soft warps.");
    }
    return Optional.empty();
  }

  private Optional<String> gelled(String mix) {
    if (job.mix(mix).isEmpty()) {
      return Optional.of("There is no such cup in this job, or it was undone.");
    }
    return job.gelOf(mix).isPresent()
        ? Optional.of("That this cup gelled is written down already.")
        : Optional.empty();
  }

  /** Any event but the start may be taken back, as long as the rest makes sense without it. */
  private Optional<String> undo(String id) {
    Optional<KeptEvent> event =
        job.standing().stream().filter(kept -> kept.id().equals(id)).findFirst();
    if (event.isEmpty()) {
      return Optional.of("There is nothing to undo: it was undone already, or never was.");
    }
    if (event.get().event() instanceof JobEvent.Started) {
      return Optional.of("A start is not undone: give the part up instead.");
    }
    return leansOn(event.get())
        .map(
            later ->
                "Undo \"" + later.event().type() + "\" first: it came after and rests on this.");
  }

  private Optional<KeptEvent> leansOn(KeptEvent undone) {
    Job without = Job.of(job.id(), List.of(job.events().get(0)));
    for (KeptEvent kept : job.standing()) {
      if (kept.id().equals(undone.id()) || kept.event() instanceof JobEvent.Started) {
        continue;
      }
      if (without.refusal(kept.event()).isPresent()) {
        return Optional.of(kept);
      }
      without = without.with(kept);
    }
    return Optional.empty();
  }
}
