package org.layroom.dashboard.job;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.RoomName;

/** A job from its events: taken once, in order, undone, and the same after a restart. */
class JobBookTest {
  private static final RoomName ROOM = RoomName.of("shop");
  private static final Instant START = Instant.parse("2026-03-07T14:00:00Z");
  private static final String JOB = "job-00000001";

  @TempDir Path data;
  private Store store;
  private JobBook book;
  private Instant now = START;
  private int made;

  @BeforeEach
  void open() {
    store = StoreFolder.open(data);
    book =
        new JobBook(store.events(), () -> now, (r, e, t) -> JsonNodeFactory.instance.objectNode());
  }

  @AfterEach
  void close() {
    store.close();
  }

  private void restart() {
    store.close();
    open();
  }

  private String fresh() {
    return "event-%06d".formatted(++made);
  }

  private Job job() {
    return book.job(ROOM, JOB).orElseThrow();
  }

  private JobBook.Outcome tap(JobEvent event) {
    Optional<Long> seen = book.job(ROOM, JOB).map(Job::position);
    return book.post(ROOM, JOB, new JobBook.Post(fresh(), seen, Duration.ZERO, event));
  }

  private StoredJobEvent taken(JobEvent event) {
    return assertInstanceOf(JobBook.Outcome.Taken.class, tap(event)).event();
  }

  private String refused(JobEvent event) {
    return assertInstanceOf(JobBook.Outcome.Refused.class, tap(event)).words();
  }

  private static JobEvent.Started fender(String mold) {
    return new JobEvent.Started(
        "fender",
        List.of(mold),
        List.of(
            new PlannedJobStep("1", StepKind.WAX_COAT, "wax coat", Optional.empty()),
            new PlannedJobStep("2", StepKind.GEL_COAT, "gel coat", Optional.of("iso-gel-coat")),
            new PlannedJobStep("3", StepKind.LAYER, "first layer", Optional.of("gp-resin")),
            new PlannedJobStep("4", StepKind.TRIM, "trim", Optional.empty()),
            new PlannedJobStep("5", StepKind.DEMOLD, "demold", Optional.empty())),
        true,
        true);
  }

  private static JobEvent mixed(String step) {
    return new JobEvent.Mixed(
        step,
        new JobEvent.Cup("gp-resin", 224, 1.5, OptionalDouble.of(2.8), 20, 19, false, List.of()));
  }

  private void wait(int minutes) {
    now = now.plus(Duration.ofMinutes(minutes));
  }

  @Test
  void aPartGoesFromWaxToOutOfTheMold() {
    taken(fender("left"));
    taken(new JobEvent.Applied("1"));
    wait(15);
    taken(new JobEvent.Done("1"));
    taken(mixed("2"));
    taken(new JobEvent.FilmRead("2", 0.45));
    taken(new JobEvent.Done("2"));
    taken(mixed("3"));
    taken(mixed("3"));
    assertEquals("3", job().current().orElseThrow().planned().id());
    taken(new JobEvent.Done("3"));
    taken(new JobEvent.Skipped("4"));
    assertTrue(refused(new JobEvent.Done("5")).contains("Check by hand first"));
    taken(new JobEvent.Checked("5", true, true, false, List.of()));
    assertTrue(refused(new JobEvent.Done("5")).contains("Check by hand first"), "it still gives");
    taken(new JobEvent.Checked("5", true, true, true, List.of(32.0)));
    wait(60);
    taken(new JobEvent.Done("5"));
    assertEquals(Job.State.OUT, job().state());
    assertEquals(Optional.of(START.plus(Duration.ofMinutes(75))), job().endedAt());
    assertEquals(2, job().steps().get(2).mixes().size());
    taken(new JobEvent.Seen(Symptom.TACKY));
    assertTrue(refused(mixed("3")).contains("demolded already"));
  }

  @Test
  void aTapThatIsSentAgainCountsOnce() {
    taken(fender("left"));
    JobBook.Post post =
        new JobBook.Post(fresh(), Optional.of(job().position()), Duration.ZERO, mixed("2"));
    assertInstanceOf(JobBook.Outcome.Taken.class, book.post(ROOM, JOB, post));
    for (int i = 0; i < 3; i++) {
      assertInstanceOf(JobBook.Outcome.Known.class, book.post(ROOM, JOB, post));
    }
    restart();
    assertInstanceOf(JobBook.Outcome.Known.class, book.post(ROOM, JOB, post));
    assertEquals(1, job().steps().get(1).mixes().size());
    JobBook.Post other =
        new JobBook.Post(post.id(), Optional.of(job().position()), Duration.ZERO, mixed("3"));
    assertInstanceOf(JobBook.Outcome.Refused.class, book.post(ROOM, JOB, other));
  }

  @Test
  void aTapOnAnOldPictureIsTurnedAway() {
    taken(fender("left"));
    Optional<Long> old = Optional.of(job().position());
    taken(mixed("2"));
    JobBook.Outcome late =
        book.post(ROOM, JOB, new JobBook.Post(fresh(), old, Duration.ZERO, mixed("2")));
    assertTrue(
        assertInstanceOf(JobBook.Outcome.Refused.class, late).words().contains("was faster"));
    JobBook.Outcome note =
        book.post(
            ROOM,
            JOB,
            new JobBook.Post(fresh(), old, Duration.ZERO, new JobEvent.Noted("corner is thin")));
    assertInstanceOf(JobBook.Outcome.Taken.class, note, "a note never collides");
  }

  @Test
  void twoTabletsTappingAtOnceMixOneCup() throws Exception {
    taken(fender("left"));
    ExecutorService tablets = Executors.newFixedThreadPool(8);
    try {
      for (int round = 0; round < 30; round++) {
        Optional<Long> seen = Optional.of(job().position());
        List<Callable<JobBook.Outcome>> taps = new ArrayList<>();
        for (int i = 0; i < 8; i++) {
          String id = fresh();
          taps.add(
              () -> book.post(ROOM, JOB, new JobBook.Post(id, seen, Duration.ZERO, mixed("2"))));
        }
        int counted = 0;
        for (Future<JobBook.Outcome> tap : tablets.invokeAll(taps)) {
          counted += tap.get() instanceof JobBook.Outcome.Taken ? 1 : 0;
        }
        assertEquals(1, counted, "round " + round);
      }
    } finally {
      tablets.shutdownNow();
    }
    assertEquals(30, job().steps().get(1).mixes().size());
  }

  @Test
  void aMoldIsUsedByOneOpenPart() {
    taken(fender("left"));
    JobBook.Post second =
        new JobBook.Post(fresh(), Optional.empty(), Duration.ZERO, fender("Left"));
    JobBook.Outcome outcome = book.post(ROOM, "job-00000002", second);
    assertTrue(assertInstanceOf(JobBook.Outcome.Refused.class, outcome).words().contains("in use"));
    taken(new JobEvent.GivenUp("dropped"));
    assertInstanceOf(JobBook.Outcome.Taken.class, book.post(ROOM, "job-00000002", second));
  }

  @Test
  void aMistakenTapIsUndoneAndStaysInTheHistory() {
    taken(fender("left"));
    StoredJobEvent wax = taken(new JobEvent.Applied("1"));
    StoredJobEvent done = taken(new JobEvent.Done("1"));
    assertTrue(refused(new JobEvent.Undone(wax.id())).contains("Undo \"done\" first"));
    taken(new JobEvent.Undone(done.id()));
    taken(new JobEvent.Undone(wax.id()));
    assertEquals("waiting", job().steps().get(0).state());
    assertTrue(refused(new JobEvent.Undone(wax.id())).contains("nothing to undo"));
    assertEquals(5, job().events().size());
    taken(new JobEvent.Applied("1"));
    restart();
    assertEquals("running", job().steps().get(0).state());
  }

  @Test
  void demoldedByMistakeIsTakenBack() {
    taken(fender("left"));
    taken(new JobEvent.Checked("5", true, true, true, List.of()));
    StoredJobEvent out = taken(new JobEvent.Done("5"));
    assertEquals(Job.State.OUT, job().state());
    taken(new JobEvent.Undone(out.id()));
    assertEquals(Job.State.OPEN, job().state());
    assertEquals("waiting", job().steps().get(4).state());
  }

  @Test
  void somethingThatHappenedAMomentAgoIsDatedBack() {
    taken(fender("left"));
    StoredJobEvent mix = taken(mixed("2"));
    wait(30);
    JobBook.Outcome gel =
        book.post(
            ROOM,
            JOB,
            new JobBook.Post(
                fresh(), Optional.empty(), Duration.ofMinutes(8), new JobEvent.Gelled(mix.id())));
    assertEquals(
        START.plus(Duration.ofMinutes(22)),
        assertInstanceOf(JobBook.Outcome.Taken.class, gel).event().time());
  }

  /** Whatever is tapped in whatever order: after a restart the job is the same. */
  @Test
  void everyJobIsTheSameAfterARestart() {
    Random random = new Random(20260307);
    List<JobEvent> all =
        List.of(
            new JobEvent.Applied("1"),
            new JobEvent.Done("1"),
            new JobEvent.Skipped("1"),
            mixed("2"),
            mixed("3"),
            new JobEvent.Done("2"),
            new JobEvent.Done("3"),
            new JobEvent.Done("4"),
            new JobEvent.Skipped("4"),
            new JobEvent.FilmRead("2", 0.4),
            new JobEvent.Checked("5", true, true, true, List.of(31.0, 33.0)),
            new JobEvent.Noted("note"),
            new JobEvent.Seen(Symptom.SOFT),
            new JobEvent.StepAdded(
                new PlannedJobStep("6", StepKind.LAYER, "more", Optional.empty()),
                Optional.of("4")));
    taken(fender("left"));
    for (int i = 0; i < 400; i++) {
      Job job = job();
      if (random.nextInt(4) == 0) {
        tap(new JobEvent.Undone(job.events().get(random.nextInt(job.events().size())).id()));
      } else {
        tap(all.get(random.nextInt(all.size())));
      }
    }
    Job before = job();
    restart();
    assertEquals(before.steps(), job().steps());
    assertEquals(before.state(), job().state());
    assertEquals(before.events(), job().events());
    assertTrue(before.events().size() > 20, "the taps were taken: " + before.events().size());
  }
}
