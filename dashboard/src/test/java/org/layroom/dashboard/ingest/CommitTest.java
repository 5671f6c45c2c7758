package org.layroom.dashboard.ingest;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.LongStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;

/** When what came in is heard, acknowledged, committed and marked; on stepped time. */
class CommitTest {
  private static final RoomName ROOM = RoomName.of("shop");
  private static final Instant START = Instant.parse("2026-11-02T10:00:00Z");
  private static final Channel BENCH = Channel.of("shop", "bench");

  @TempDir Path folder;
  private final SteppedPace pace = new SteppedPace(START);
  private final List<StoreEntry.Sample> heard = new ArrayList<>();
  private final List<Long> marks = new ArrayList<>();
  private int acknowledged;
  private WatchedStore store;
  private Ingest ingest;
  private Store current;

  @BeforeEach
  void open() {
    store = new WatchedStore(StoreFolder.open(folder));
    begin();
  }

  private void begin() {
    ingest =
        Ingest.onCallersThread(
            store,
            pace,
            new ReadingListener() {
              @Override
              public void accepted(StoreEntry.Sample sample, boolean backlog) {
                heard.add(sample);
              }

              @Override
              public void marks(List<OutboxMark> now) {
                now.forEach(mark -> marks.add(mark.mark().sequence()));
              }
            });
    ingest.start();
    current = new CurrentStore(store, ingest);
  }

  @AfterEach
  void close() {
    ingest.close();
    store.close();
    pace.close();
  }

  private void send(String topic, String body) {
    assertTrue(
        ingest.accept(
            new Inbound(
                topic,
                body.getBytes(StandardCharsets.UTF_8),
                pace.now(),
                Optional.empty(),
                () -> acknowledged++)));
  }

  private void numbered(String device, long sequence) {
    send(
        "layroom/shop/" + device + "/readings",
        "[{\"bn\":\"layroom/shop/"
            + device
            + "/\",\"bt\":"
            + pace.now().getEpochSecond()
            + ",\"n\":\"outbox\",\"vs\":\"box\"},{\"n\":\"sequence\",\"v\":"
            + sequence
            + "},{\"n\":\"temperature\",\"u\":\"Cel\",\"v\":19.5}]");
  }

  private void numbered(long sequence) {
    numbered("bench", sequence);
  }

  private void plain() {
    send(
        "layroom/shop/board/readings",
        "[{\"bn\":\"layroom/shop/board/\",\"bt\":"
            + pace.now().getEpochSecond()
            + ",\"n\":\"temperature\",\"u\":\"Cel\",\"v\":20}]");
  }

  private void status(String device, String more) {
    send("layroom/shop/" + device + "/status", "{\"state\":\"online\",\"faults\":[]" + more + "}");
  }

  /** A device that says that it waits as long as this one does, and nothing else waiting. */
  private int patient(String device) {
    status(device, ",\"markWaitSeconds\":150");
    pace.advanceBy(Duration.ofSeconds(1));
    return store.commits();
  }

  private long stored() {
    return store.history().countReadings(ROOM, Instant.EPOCH, START.plus(Duration.ofDays(9)));
  }

  @Test
  void aReadingWithAnOutboxIsHeardAndAcknowledgedAtOnceAndMarkedAfterTheCommit() {
    int before = patient("bench");
    acknowledged = 0;
    numbered(1);
    assertEquals(1, heard.size());
    assertEquals(1, acknowledged);
    pace.advanceBy(Duration.ofSeconds(119));
    assertEquals(before, store.commits());
    assertEquals(List.of(), marks);
    pace.advanceBy(Duration.ofSeconds(2));
    assertEquals(before + 1, store.commits());
    assertEquals(List.of(1L), marks);
    assertEquals(1, stored());
  }

  @Test
  void aQuietRoomIsCommittedAndMarkedEveryTwoMinutes() {
    int before = patient("bench");
    for (int i = 1; i <= 60; i++) {
      numbered(i);
      pace.advanceBy(Duration.ofSeconds(10));
    }
    int commits = store.commits() - before;
    assertTrue(commits >= 4 && commits <= 5, commits + " in ten minutes");
    assertEquals(commits, marks.size());
  }

  @Test
  void aDeviceOfTheFirstVersionHasItsMarkWithinTwentySeconds() {
    patient("bench");
    status("old", "");
    numbered("bench", 1);
    numbered("old", 1);
    pace.advanceBy(Duration.ofSeconds(19));
    assertEquals(List.of(), marks);
    pace.advanceBy(Duration.ofMillis(1250));
    assertEquals(List.of(1L, 1L), marks);
  }

  @Test
  void aDeviceThatNeverSaidHowLongItWaitsIsTakenForOneOfTheFirstVersion() {
    numbered(1);
    pace.advanceBy(Duration.ofMillis(20_250));
    assertEquals(List.of(1L), marks);
  }

  @Test
  void aDeviceThatWaitsForShorterThanThisOneDoesIsMarkedEarlyToo() {
    status("bench", ",\"markWaitSeconds\":149");
    numbered(1);
    pace.advanceBy(Duration.ofMillis(20_250));
    assertEquals(List.of(1L), marks);
  }

  @Test
  void aDeviceThatGoesIsStillThePatientOneWhenItIsBack() {
    patient("bench");
    send("layroom/shop/bench/status", "{\"state\":\"offline\"}");
    int before = store.commits();
    numbered(1);
    pace.advanceBy(Duration.ofSeconds(119));
    assertEquals(before, store.commits());
  }

  @Test
  void aReadingWithoutAnOutboxIsHeardAtOnceAndAcknowledgedOnlyAfterItsCommit() {
    store.full(true);
    plain();
    assertEquals(1, heard.size(), "no alarm waits for a commit");
    pace.advanceBy(Duration.ofSeconds(10));
    assertEquals(0, acknowledged);
    assertEquals(0, stored());
    store.full(false);
    pace.advanceBy(Duration.ofSeconds(3));
    assertEquals(1, acknowledged);
    assertEquals(1, stored());
    assertEquals(1, heard.size());
  }

  @Test
  void aReadingWithoutAnOutboxTakesAllThatWaitsWithItAtOnce() {
    int before = patient("bench");
    numbered(1);
    numbered(2);
    plain();
    assertEquals(before + 1, store.commits());
    assertEquals(3, stored());
    assertEquals(List.of(2L), marks);
  }

  @Test
  void aStatusIsAcknowledgedAfterItsCommitToo() {
    store.full(true);
    status("bench", "");
    assertEquals(0, acknowledged);
    store.full(false);
    pace.advanceBy(Duration.ofSeconds(3));
    assertEquals(1, acknowledged);
  }

  @Test
  void aboveAHundredReadingsAMinuteTheyWaitForASecond() {
    int before = patient("bench");
    for (int i = 1; i <= CommitRule.BUSY_READINGS; i++) {
      numbered(i);
      pace.advanceBy(Duration.ofMillis(100));
    }
    assertEquals(before, store.commits());
    numbered(CommitRule.BUSY_READINGS + 1);
    pace.advanceBy(Duration.ofMillis(750));
    assertEquals(before, store.commits());
    pace.advanceBy(Duration.ofMillis(500));
    assertEquals(before + 1, store.commits());
    assertEquals(List.of(CommitRule.BUSY_READINGS + 1L), marks);
  }

  /** A device sends only so much above its mark: a gap there would hold up a backlog. */
  @Test
  void aRangeOfLostNumbersWaitsForASecond() {
    patient("bench");
    send(
        "layroom/shop/bench/readings",
        "[{\"bn\":\"layroom/shop/bench/\",\"n\":\"outbox\",\"vs\":\"box\"},"
            + "{\"n\":\"sequence-lost-first\",\"v\":1},{\"n\":\"sequence-lost-last\",\"v\":40}]");
    assertEquals(List.of(), marks);
    pace.advanceBy(Duration.ofMillis(1250));
    assertEquals(List.of(40L), marks);
  }

  @Test
  void aFullBatchDoesNotWait() {
    for (int i = 1; i <= Committer.MOST_IN_BATCH; i++) {
      numbered(i);
    }
    assertEquals(Committer.MOST_IN_BATCH, stored());
  }

  @Test
  void whoeverAsksForACommitGetsIt() {
    int before = patient("bench");
    numbered(1);
    ingest.commitSoon();
    assertEquals(before + 1, store.commits());
    assertEquals(List.of(1L), marks);
  }

  @Test
  void aQuestionFindsWhatWasAcceptedAndOneThatDoesNotConcernItCostsNoCommit() {
    int before = patient("bench");
    numbered(1);
    Instant now = pace.now().plusSeconds(1);
    Instant anHourAgo = now.minus(Duration.ofHours(1));
    current.history().between(ROOM, "temperature", anHourAgo.minusSeconds(60), anHourAgo, 1);
    current.history().countReadings(RoomName.of("annex"), anHourAgo, now);
    assertEquals(before, store.commits());
    assertEquals(
        1, current.history().between(ROOM, "temperature", anHourAgo, now, 1).buckets().get(0).n());
    assertEquals(before + 1, store.commits());
    current.history().between(ROOM, "temperature", anHourAgo, now, 1);
    assertEquals(before + 1, store.commits());
  }

  @Test
  void everyWayOfAskingFindsWhatWasAccepted() {
    patient("bench");
    Instant from = pace.now().minusSeconds(5);
    Instant to = pace.now().plusSeconds(3600);
    numbered(1);
    assertEquals(1, current.sources().latest(ROOM).size());
    numbered(2);
    List<Object> rows = new ArrayList<>();
    current.archive().export(ROOM, from, to, rows::add);
    assertEquals(2, rows.size());
    numbered(3);
    current.archive().readings(BENCH, from, to, (time, readings) -> rows.add(time));
    assertEquals(5, rows.size());
    numbered(4);
    assertEquals(List.of(1L, 2L, 3L, 4L), current.archive().sequences(BENCH, "box"));
    numbered(5);
    current.history().values(ROOM, "temperature", from, to, (time, value) -> rows.add(time));
    assertEquals(10, rows.size());
    numbered(6);
    Path copy = folder.resolve("copy");
    assertTrue(copy.toFile().mkdirs());
    current.copyTo(copy.resolve("layroom.db"));
    try (Store copied = StoreFolder.open(copy)) {
      assertEquals(6, copied.marks().get(0).mark().sequence());
    }
  }

  @Test
  void whileTheStoreTakesNothingReadingsAreHeardAndQuestionsAnswered() {
    numbered(1);
    ingest.commitSoon();
    store.full(true);
    for (int i = 2; i <= 10; i++) {
      numbered(i);
    }
    assertEquals(10, heard.size());
    assertEquals(1, current.history().countReadings(ROOM, Instant.EPOCH, START.plusSeconds(60)));
    pace.advanceBy(Duration.ofMinutes(5));
    assertEquals(List.of(1L), marks);
    store.full(false);
    pace.advanceBy(Duration.ofSeconds(3));
    assertEquals(10, stored());
    assertEquals(10L, marks.get(marks.size() - 1));
  }

  @Test
  void whatFindsNoRoomWhileTheStoreTakesNothingIsHeardAndStoredWhenItComesAgain() {
    int many = 2500;
    store.full(true);
    for (int i = 1; i <= many; i++) {
      numbered(i);
    }
    assertEquals(many, heard.size());
    assertEquals(many, acknowledged);
    store.full(false);
    pace.advanceBy(Duration.ofSeconds(5));
    long mark = marks.get(marks.size() - 1);
    assertTrue(mark < many, "not all of it had room: " + mark);
    for (long i = mark + 1; i <= many; i++) {
      numbered(i);
    }
    pace.advanceBy(Duration.ofSeconds(121));
    assertEquals(many, stored());
    assertEquals(many, marks.get(marks.size() - 1));
    assertEquals(many, heard.size(), "heard once");
  }

  @Test
  void aKilledDashboardGetsWhatWasNotCommittedAgainAndHasItOnce() {
    patient("bench");
    numbered(1);
    ingest.commitSoon();
    numbered(2);
    numbered(3);
    heard.clear();
    begin(); // the one before is never closed, so it commits nothing more
    for (int i = 1; i <= 3; i++) {
      numbered(i);
    }
    assertEquals(
        List.of(2L, 3L),
        heard.stream().map(sample -> sample.position().orElseThrow().sequence()).toList(),
        "what was stored was heard before the kill");
    ingest.commitSoon();
    assertEquals(3, stored());
    assertEquals(
        LongStream.rangeClosed(1, 3).boxed().toList(), store.archive().sequences(BENCH, "box"));
  }

  @Test
  void aReadingThatComesAgainBeforeItsCommitIsHeardOnceAndStoredOnce() {
    numbered(1);
    numbered(1);
    plain();
    plain();
    assertEquals(2, heard.size());
    assertEquals(2, ingest.counts().duplicates());
    assertEquals(2, stored());
  }

  @Test
  void closingCommitsWhatWaits() {
    patient("bench");
    numbered(1);
    ingest.close();
    assertEquals(1, stored());
  }
}
