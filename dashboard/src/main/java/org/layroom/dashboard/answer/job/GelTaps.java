package org.layroom.dashboard.answer.job;

import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.StoredJobEvent;
import org.layroom.dashboard.material.GelTests;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.calibration.GelTest;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.tinylog.Logger;

/**
 * What the gel of a part's cups teaches their cans. A gel that is hardly possible is asked about
 * and teaches nothing until somebody confirms it; one whose time nobody knows teaches nothing.
 * Doing this again changes nothing, so it is done again at each start: a power cut cannot part job
 * and can.
 */
final class GelTaps {
  private final MaterialShelf shelf;
  private final GelTests tests;

  GelTaps(MaterialShelf shelf, GelTests tests) {
    this.shelf = shelf;
    this.tests = tests;
  }

  /**
   * A question about a gel that is hardly possible.
   *
   * @param test what to confirm, by its id among the can's gel tests
   * @param event what to undo, if it was mistaken
   * @param words for the person who tapped it
   */
  record Question(String test, String event, String words) {}

  /** The question about a cup's gel, while it is open. */
  Optional<Question> question(Job job, StoredJobEvent mix) {
    return job.gelOf(mix.id())
        .flatMap(
            gel ->
                tests.asked(StageWindows.cup(mix).material()).stream()
                    .filter(kept -> kept.id().equals(testId(job, gel.id())))
                    .findFirst()
                    .map(
                        kept ->
                            new Question(kept.id(), gel.id(), words(mix, kept.test().minutes()))));
  }

  private String words(StoredJobEvent mix, double minutes) {
    OptionalDouble likely = likelyInstead(StageWindows.cup(mix), minutes);
    return String.format(
        Locale.ROOT,
        "Gelled %.0f min after mixing%s. Was it tapped in time? It teaches nothing until you"
            + " confirm it.",
        minutes,
        likely.isPresent()
            ? String.format(Locale.ROOT, "; likely was %.0f min", likely.getAsDouble())
            : "");
  }

  /** A gel that was seen teaches the can. */
  void learn(Job job, StoredJobEvent event, JobEvent.Gelled gelled) {
    Optional<StoredJobEvent> mix = mixOf(job, gelled);
    if (mix.isEmpty() || gelled.timeUnknown()) {
      return;
    }
    JobEvent.Cup cup = StageWindows.cup(mix.get());
    double minutes = Duration.between(mix.get().time(), event.time()).toMillis() / 60_000.0;
    try {
      GelTest test =
          new GelTest(
              GelTest.Where.CUP, cup.resinC(), cup.doseByWeightPct(), minutes, gelled.offMinutes());
      String id = testId(job, event.id());
      if (likelyInstead(cup, minutes).isPresent()) {
        tests.ask(cup.material(), id, event.time(), test, job.part());
      } else {
        tests.add(cup.material(), id, event.time(), test, job.part());
      }
    } catch (IllegalArgumentException e) {
      Logger.warn(
          "A gel after {} min in \"{}\" was not used as a gel test: {}", minutes, job.part(), e);
    }
  }

  /** A gel that is undone teaches no more. */
  void unlearn(Job job, String undone, Instant time) {
    for (StoredJobEvent kept : job.events()) {
      if (kept.id().equals(undone) && kept.event() instanceof JobEvent.Gelled gelled) {
        mixOf(job, gelled)
            .ifPresent(
                mix -> tests.drop(StageWindows.cup(mix).material(), testId(job, undone), time));
      }
    }
  }

  private OptionalDouble likelyInstead(JobEvent.Cup cup, double minutes) {
    Optional<Material> can = shelf.find(cup.material()).map(MaterialShelf.Entry::material);
    if (can.isEmpty()) {
      return OptionalDouble.empty();
    }
    try {
      return tests
          .calibration(can.get())
          .likelyInstead(cup.resinC(), cup.doseByWeightPct(), minutes);
    } catch (InvalidMaterial e) {
      Logger.error("No gel time for {}: {}", cup.material(), e.getMessage());
      return OptionalDouble.empty();
    }
  }

  private static Optional<StoredJobEvent> mixOf(Job job, JobEvent.Gelled gelled) {
    return job.events().stream().filter(mix -> mix.id().equals(gelled.mix())).findFirst();
  }

  private static String testId(Job job, String event) {
    return "job-" + job.id() + "-" + event;
  }
}
