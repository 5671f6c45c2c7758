package org.layroom.dashboard.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;

/** What any store keeps, and how it answers: run by a test for each way of keeping it. */
abstract class StoreContract {
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final RoomName ROOM = BENCH.room();
  private static final Instant NOON = Instant.parse("2026-11-02T12:00:00Z");

  @TempDir Path folder;

  /** Opens the store of a folder, which is made when missing. */
  abstract Store open(Path folder);

  private static StoreEntry.Sample plain(Channel channel, Instant time, Reading... readings) {
    return new StoreEntry.Sample(
        channel,
        Optional.empty(),
        SampleTimes.asSaid(time, time.plusSeconds(1)),
        List.of(readings),
        List.of());
  }

  private static StoreEntry.Sample numbered(long sequence, Instant time, Reading... readings) {
    return new StoreEntry.Sample(
        BENCH,
        Optional.of(new OutboxPosition("box", sequence)),
        SampleTimes.asSaid(time, time.plusSeconds(1)),
        List.of(readings),
        List.of());
  }

  private static Reading temperature(double celsius) {
    return Reading.of("temperature", "Cel", celsius);
  }

  private static Reading humidity(double percent) {
    return Reading.of("humidity", "%RH", percent);
  }

  @Test
  void readingsWithoutANumberOfTheSameMomentAreOneRowAndTheFirstValueStands() {
    try (Store store = open(folder)) {
      store.append(List.of(plain(BENCH, NOON, temperature(20))));
      AppendResult again = store.append(List.of(plain(BENCH, NOON, temperature(25), humidity(50))));
      assertEquals(List.of(true), again.fresh());
      assertEquals(1, store.history().countReadings(ROOM, NOON, NOON.plusSeconds(1)));
      List<ArchivedSample> rows = new ArrayList<>();
      store.archive().export(ROOM, Instant.EPOCH, NOON.plusSeconds(1), rows::add);
      assertEquals(List.of(temperature(20), humidity(50)), rows.get(0).readings());
    }
  }

  @Test
  void doubtfulValuesFaultsTextsAndUnknownRecordsAreKeptButNotTakenForGoodOnes() {
    Reading doubtful = Reading.of("temperature", "Cel", 19, Quality.suspect("stuck"));
    Reading fault = Reading.missing("mold-temperature", "Cel", "no answer");
    Reading unknown = Reading.of("lux", "lx", 300);
    Reading probe = Reading.of("mold-temperature/fender", "Cel", 22);
    try (Store store = open(folder)) {
      store.append(List.of(numbered(1, NOON, doubtful, fault, unknown, probe)));
      List<ArchivedSample> rows = new ArrayList<>();
      store.archive().export(ROOM, NOON, NOON.plusSeconds(1), rows::add);
      assertEquals(List.of(doubtful, fault, unknown, probe), rows.get(0).readings());
      assertEquals(4, store.sources().latest(ROOM).size());
      assertEquals(List.of(), buckets(store, "temperature"));
      assertEquals(22, buckets(store, "mold-temperature/fender").get(0).mean());
      assertEquals(300, buckets(store, "lux").get(0).mean());
    }
  }

  private static List<Bucket> buckets(Store store, String series) {
    return store
        .history()
        .between(ROOM, series, NOON.minusSeconds(60), NOON.plusSeconds(60), 1)
        .buckets();
  }

  @Test
  void theDeviceFirstHeardOfSpeaksUnlessAnotherIsChosenAndTheyAreNeverAveraged() {
    Channel annex = Channel.of("shop", "annex");
    try (Store store = open(folder)) {
      store.append(
          List.of(plain(BENCH, NOON, temperature(20)), plain(annex, NOON, temperature(30))));
      assertEquals(20, buckets(store, "temperature").get(0).mean());
      store.sources().setSource(ROOM, "temperature", DeviceName.of("annex"));
      assertEquals(30, buckets(store, "temperature").get(0).mean());
      assertEquals(
          Optional.of(DeviceName.of("annex")), store.sources().source(ROOM, "temperature"));
      store.sources().setSource(ROOM, "temperature", DeviceName.of("gone"));
      assertEquals(List.of(), buckets(store, "temperature"));
    }
  }

  @Test
  void aDayIsTheDayOfTheShopsOwnZone() {
    ZoneId zone = ZoneId.of("America/Denver");
    Instant lateEvening = Instant.parse("2026-11-03T06:30:00Z");
    Instant afterMidnight = Instant.parse("2026-11-03T07:30:00Z");
    try (Store store = open(folder)) {
      store.append(
          List.of(
              numbered(1, lateEvening, temperature(18)),
              numbered(2, lateEvening.plusSeconds(10), temperature(20)),
              numbered(3, afterMidnight, temperature(10))));
      assertEquals(
          List.of(
              new DaySummary(LocalDate.of(2026, 11, 2), 2, 18, 19, 20),
              new DaySummary(LocalDate.of(2026, 11, 3), 1, 10, 10, 10)),
          store.history().daily(ROOM, "temperature", zone));
    }
  }

  @Test
  void oldRawReadingsGoButRollupsAndMarksStay() {
    Duration kept = Retention.USUAL.readings().orElseThrow();
    Instant old = NOON.minus(kept).minusSeconds(60);
    try (Store store = open(folder)) {
      store.append(List.of(numbered(1, old, temperature(10)), numbered(2, NOON, temperature(20))));
      assertEquals(1, store.archive().dropBefore(Level.READINGS, NOON.minus(kept), List.of()));
      assertEquals(List.of(2L), store.archive().sequences(BENCH, "box"));
      SeriesHistory history =
          store.history().between(ROOM, "temperature", old.minusSeconds(60), NOON, 100);
      assertEquals(10, history.buckets().get(0).mean());
      assertEquals(2, store.marks().get(0).mark().sequence());
      assertEquals(
          List.of(false), store.append(List.of(numbered(2, NOON, temperature(20)))).fresh());
    }
  }

  @Test
  void everyNumberThatIsStoredIsNamed() {
    try (Store store = open(folder)) {
      assertEquals(List.of(), store.ranges());
      store.append(
          List.of(
              numbered(1, NOON, temperature(20)),
              numbered(2, NOON.plusSeconds(10), temperature(20)),
              new StoreEntry.Lost(BENCH, "box", 7, 9, NOON),
              plain(BENCH, NOON.plusSeconds(20), temperature(20))));
      assertEquals(
          List.of(new StoredRange(BENCH, "box", 1, 2), new StoredRange(BENCH, "box", 7, 9)),
          store.ranges());
    }
  }

  @Test
  void aStatusKeepsSinceWhenItHasBeenTheSame() {
    DeviceStatus online = new DeviceStatus(true, Optional.empty(), List.of());
    try (Store store = open(folder)) {
      store.append(List.of(new StoreEntry.Status(BENCH, online, NOON)));
      store.append(List.of(new StoreEntry.Status(BENCH, online, NOON.plusSeconds(60))));
      assertEquals(
          new DeviceRecord.Said(online, NOON, NOON.plusSeconds(60)),
          store.sources().devices(ROOM).get(0).said().orElseThrow());
      store.append(
          List.of(new StoreEntry.Status(BENCH, DeviceStatus.OFFLINE, NOON.plusSeconds(90))));
      assertEquals(
          NOON.plusSeconds(90), store.sources().devices(ROOM).get(0).said().orElseThrow().since());
    }
  }

  @Test
  void anEventSentTwiceIsKeptOnceAndOrderIsKept() {
    try (Store store = open(folder)) {
      assertTrue(store.events().append("job/1", "b", NOON, "{}"));
      assertTrue(store.events().append("job/1", "a", NOON.minusSeconds(5), "{}"));
      assertFalse(store.events().append("job/1", "b", NOON, "{\"other\":1}"));
      assertTrue(store.events().append("job/2", "b", NOON, "{}"));
      assertEquals(
          List.of("b", "a"),
          store.events().events("job/1").stream().map(EventLog.Event::id).toList());
      assertEquals(3, store.events().eventsOfStreams("job/").size());
    }
  }

  @Test
  void nonsenseQuestionsAreRefused() {
    try (Store store = open(folder)) {
      History history = store.history();
      Instant later = NOON.plus(Duration.ofHours(1));
      assertThrows(
          IllegalArgumentException.class,
          () -> history.between(ROOM, "temperature", NOON, later, 0));
      assertThrows(
          IllegalArgumentException.class,
          () -> history.between(ROOM, "temperature", later, NOON, 10));
      assertThrows(
          IllegalArgumentException.class,
          () -> history.between(ROOM, "x') from device; --", NOON, later, 10));
      assertEquals(List.of(), history.between(ROOM, "temperature", NOON, later, 10).buckets());
    }
  }
}
