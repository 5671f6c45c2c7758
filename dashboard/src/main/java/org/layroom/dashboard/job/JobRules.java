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
    if (event instanceof JobEvent.Noted
        || event instanceof JobEvent.Seen
        || event instanceof JobEvent.Removed) {
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
          "This part is "
              + job.state().words()
              + " already. If that was a mistake, undo it"
              + " first.");
    }
    if (event instanceof JobEvent.Started) {
      return Optional.of("This part was already started.");
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
    return Optional.of("This cannot be done with a part.");
  }

  private interface Rule {
    Optional<String> refusal(Step step);
  }

  private Optional<String> onOpen(String id, Rule rule) {
    Optional<Step> found =
        job.steps().stream().filter(step -> step.planned().id().equals(id)).findFirst();
    if (found.isEmpty()) {
      return Optional.of("There is no step " + id + " in this part.");
    }
    Step step = found.get();
    if (step.over()) {
      return Optional.of(
          "The step \""
              + step.planned().name()
              + "\" is "
              + (step.skipped() ? "skipped" : "done")
              + " already. If that was a mistake, undo it first.");
    }
    return rule.refusal(step);
  }

  private Optional<String> apply(Step step) {
    if (step.planned().kind().waits().isEmpty()) {
      return Optional.of(
          "\"" + step.planned().name() + "\" is not a coat that is wiped or sprayed.");
    }
    return step.applied().isPresent()
        ? Optional.of("\"" + step.planned().name() + "\" is already applied and drying.")
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
            "\"" + step.planned().name() + "\" has started, so it cannot be skipped. Finish it.")
        : Optional.empty();
  }

  private static Optional<String> done(Step step) {
    StepKind kind = step.planned().kind();
    String name = "\"" + step.planned().name() + "\"";
    if (kind.waits().isPresent() && step.applied().isEmpty()) {
      return Optional.of(name + " has not been applied yet. Skip it if you do not want it.");
    }
    if (kind.isMixed() && step.mixes().isEmpty()) {
      return Optional.of(
          "Nothing has been mixed for " + name + " yet. Skip it if you do not want it.");
    }
    if (kind == StepKind.DEMOLD && step.check().filter(JobEvent.Checked::hard).isEmpty()) {
      return Optional.of(StepKind.HAND_CHECK + " A part demolded soft warps.");
    }
    return Optional.empty();
  }

  private Optional<String> gelled(String mix) {
    if (job.mix(mix).isEmpty()) {
      return Optional.of("There is no such cup in this part, or it was undone.");
    }
    return job.gelOf(mix).isPresent()
        ? Optional.of("The gel of this cup is already recorded.")
        : Optional.empty();
  }

  /** Any event but the start may be taken back, as long as the rest makes sense without it. */
  private Optional<String> undo(String id) {
    Optional<StoredJobEvent> event =
        job.standing().stream().filter(kept -> kept.id().equals(id)).findFirst();
    if (event.isEmpty()) {
      return Optional.of(
          "There is nothing to undo: the entry does not exist or was already undone.");
    }
    if (event.get().event() instanceof JobEvent.Started) {
      return Optional.of("A start cannot be undone. Cancel the part instead.");
    }
    return leansOn(event.get())
        .map(
            later ->
                "Undo \"" + later.event().type() + "\" first: it came later and depends on this.");
  }

  private Optional<StoredJobEvent> leansOn(StoredJobEvent undone) {
    Job without = Job.of(job.id(), List.of(job.events().get(0)));
    for (StoredJobEvent kept : job.standing()) {
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
