package org.layroom.dashboard.answer.job;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobBook;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.PlannedJobStep;
import org.layroom.dashboard.job.StepKind;
import org.layroom.dashboard.job.StoredJobEvent;
import org.layroom.dashboard.material.GelTests;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.RoomName;

/** One tap never teaches a can what hardly can be: it is asked about first. */
class GelTapsTest {
  private static final RoomName ROOM = RoomName.of("shop");
  private static final String JOB = "job-00000001";
  private static final String CAN = "gp-resin";

  @TempDir Path data;
  private Store store;
  private JobBook book;
  private GelTests tests;
  private GelTaps taps;
  private Instant now = Instant.parse("2026-03-07T14:00:00Z");
  private int made;

  @BeforeEach
  void open() {
    store = StoreFolder.open(data);
    book =
        new JobBook(store.events(), () -> now, (r, e, t) -> JsonNodeFactory.instance.objectNode());
    start();
  }

  /** As at a start of the dashboard: everything is learned again. */
  private void start() {
    tests = new GelTests(store.events(), () -> now);
    taps = new GelTaps(MaterialShelf.presets(), tests);
    book.all().forEach(job -> job.events().forEach(event -> learn(job, event)));
  }

  private void learn(Job job, StoredJobEvent event) {
    if (event.event() instanceof JobEvent.Gelled gelled) {
      taps.learn(job, event, gelled);
    } else if (event.event() instanceof JobEvent.Undone undone) {
      taps.unlearn(job, undone.event(), event.time());
    }
  }

  @AfterEach
  void close() {
    store.close();
  }

  private StoredJobEvent tap(JobEvent event, Duration ago) {
    Optional<Long> seen = book.job(ROOM, JOB).map(Job::position);
    JobBook.Post post = new JobBook.Post("event-%06d".formatted(++made), seen, ago, event);
    JobBook.Outcome.Taken taken =
        assertInstanceOf(JobBook.Outcome.Taken.class, book.post(ROOM, JOB, post));
    learn(taken.job(), taken.event());
    return taken.event();
  }

  /** A cup of 20 min at 20 degC and 1.5 %. */
  private StoredJobEvent mixed() {
    tap(
        new JobEvent.Started(
            "fender",
            List.of("left"),
            List.of(new PlannedJobStep("1", StepKind.LAYER, "layer", Optional.of(CAN))),
            true,
            true),
        Duration.ZERO);
    JobEvent.Cup cup =
        new JobEvent.Cup(CAN, 224, 1.5, OptionalDouble.of(2.8), 20, 20, false, List.of());
    return tap(new JobEvent.Mixed("1", cup), Duration.ZERO);
  }

  private void later(int minutes) {
    now = now.plus(Duration.ofMinutes(minutes));
  }

  private Job job() {
    return book.job(ROOM, JOB).orElseThrow();
  }

  @Test
  void anOrdinaryGelTeachesAtOnce() {
    StoredJobEvent mix = mixed();
    later(24);
    tap(new JobEvent.Gelled(mix.id()), Duration.ZERO);
    assertEquals(24, tests.tests(CAN).get(0).test().minutes(), 1e-9);
    assertTrue(taps.question(job(), mix).isEmpty());
  }

  // A tap three minutes after mixing once made the next mix be refused: "would gel in under 5 min".
  @Test
  void aGelThatHardlyCanBeIsAskedAboutAndTeachesNothing() throws Exception {
    StoredJobEvent mix = mixed();
    later(3);
    tap(new JobEvent.Gelled(mix.id()), Duration.ZERO);
    assertEquals(List.of(), tests.tests(CAN));
    GelTaps.Question question = taps.question(job(), mix).orElseThrow();
    assertTrue(question.words().startsWith("Gelled 3 min after mixing; likely was 20 min."));
    start();
    assertEquals(List.of(), tests.tests(CAN), "nor after another start");
    tests.confirm(CAN, question.test(), now);
    assertEquals(3, tests.tests(CAN).get(0).test().minutes(), 1e-9);
    assertTrue(taps.question(job(), mix).isEmpty());
    start();
    assertEquals(1, tests.tests(CAN).size());
  }

  @Test
  void aTapThatIsUndoneIsAskedAboutNoMore() {
    StoredJobEvent mix = mixed();
    later(90);
    StoredJobEvent gel = tap(new JobEvent.Gelled(mix.id()), Duration.ZERO);
    assertEquals(gel.id(), taps.question(job(), mix).orElseThrow().event());
    tap(new JobEvent.Undone(gel.id()), Duration.ZERO);
    assertEquals(List.of(), tests.asked(CAN));
    tap(new JobEvent.Gelled(mix.id(), 20, false), Duration.ofMinutes(60));
    assertEquals(30, tests.tests(CAN).get(0).test().minutes(), 1e-9);
    assertEquals(20, tests.tests(CAN).get(0).test().timingMinutes());
    start();
    assertEquals(20, tests.tests(CAN).get(0).test().timingMinutes(), "kept in the store");
  }

  @Test
  void aGelOfUnknownTimeTeachesNothing() {
    StoredJobEvent mix = mixed();
    later(25);
    tap(new JobEvent.Gelled(mix.id(), 0, true), Duration.ZERO);
    assertEquals(List.of(), tests.tests(CAN));
    assertEquals(List.of(), tests.asked(CAN));
    assertTrue(job().gelOf(mix.id()).isPresent() && job().gelTime(mix.id()).isEmpty());
  }

  // 2 % a month since the last test (chosen): six months, 12.7 % later.
  @Test
  void aCanTestedLongAgoGelsLater() throws Exception {
    StoredJobEvent mix = mixed();
    later(20);
    tap(new JobEvent.Gelled(mix.id()), Duration.ZERO);
    var can = MaterialShelf.presets().find(CAN).orElseThrow().material();
    double fresh = tests.calibration(can).belief().likelyGelMinutes(20, 1.5);
    now = now.plus(Duration.ofDays(183));
    double old = tests.calibration(can).belief().likelyGelMinutes(20, 1.5);
    assertEquals(1.127, old / fresh, 0.002);
  }
}
