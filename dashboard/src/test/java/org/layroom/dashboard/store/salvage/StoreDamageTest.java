package org.layroom.dashboard.store.salvage;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.Bucket;
import org.layroom.dashboard.store.EventLog;
import org.layroom.dashboard.store.Level;
import org.layroom.dashboard.store.RepairReport;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.SeriesHistory;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.dashboard.store.sqlite.Schema;
import org.layroom.dashboard.store.sqlite.SqliteFile;
import org.layroom.dashboard.store.sqlite.UpgradeProgress;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;
import org.layroom.testing.Seed;

/**
 * Really damaged files: what is whole is kept, nothing is made up, the damaged file stays as it
 * was, and a person is told. The size of a page, 4096 bytes, is SQLite's default.
 */
class StoreDamageTest {
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final RoomName ROOM = BENCH.room();
  private static final Instant NOON = Instant.parse("2026-11-02T12:00:00Z");
  private static final int PAGE = 4096;
  private static final int SAMPLES = 4000;

  /** More rows than one leaf page, or two that share a parent with it, can hold. */
  private static final int ON_A_PAGE = 130;

  /** The one page, counted from 1, without which no row of readings can be found again. */
  private static final int ROOT_OF_READINGS = 7;

  @TempDir static Path shared;

  @TempDir Path folder;

  private static byte[] whole = {};

  @BeforeAll
  static void aStoreWithSomeWeeksInIt() throws IOException {
    Path home = shared.resolve("whole");
    try (Store store = StoreFolder.open(home)) {
      List<StoreEntry> batch = new ArrayList<>();
      for (int i = 1; i <= SAMPLES; i++) {
        batch.add(sample(i));
      }
      store.append(batch);
      for (int i = 0; i < 200; i++) {
        store.events().append("job/1", "tap-" + i, NOON.plusSeconds(i), "{\"tap\":" + i + "}");
      }
      store.events().set("air/shop", "{\"mode\":\"house\"}");
      store.events().set("private/key", "a secret");
      store.events().set(EventLog.CLIENT_ID, "layroom-1");
    }
    whole = Files.readAllBytes(home.resolve(SqliteFile.NAME));
  }

  private static StoreEntry.Sample sample(int i) {
    Instant time = NOON.plus(Duration.ofSeconds(10L * i));
    return new StoreEntry.Sample(
        BENCH,
        Optional.of(new OutboxPosition("box", i)),
        SampleTimes.asSaid(time, time.plusSeconds(1)),
        List.of(
            Reading.of("temperature", "Cel", temperature(i)),
            Reading.of("humidity", "%RH", 50),
            Reading.of("lux", "lx", i)),
        List.of());
  }

  private static double temperature(long sequence) {
    return 15 + sequence % 97 / 10.0;
  }

  private Path file() {
    return folder.resolve(SqliteFile.NAME);
  }

  private void write(byte[] bytes) throws IOException {
    Files.write(file(), bytes);
  }

  private static Map<Long, Double> readings(Store store) {
    Map<Long, Double> all = new TreeMap<>();
    store
        .archive()
        .export(
            ROOM,
            Instant.EPOCH,
            NOON.plus(Duration.ofDays(365)),
            row ->
                all.put(
                    row.position().orElseThrow().sequence(),
                    row.readings().get(0).value().orElseThrow()));
    return all;
  }

  /** Opens a damaged store: what is there is true, and what is missing fits on the damage. */
  private RepairReport mended(byte[] damaged, int mostMissing) throws IOException {
    write(damaged);
    try (Store store = StoreFolder.open(folder)) {
      RepairReport told = store.mended().orElseThrow();
      assertArrayEquals(damaged, Files.readAllBytes(folder.resolve(told.setAside())));
      Map<Long, Double> kept = readings(store);
      kept.forEach((sequence, celsius) -> assertEquals(temperature(sequence), celsius));
      assertTrue(kept.size() >= SAMPLES - mostMissing, "kept " + kept.size() + ": " + told.words());
      assertFalse(kept.size() < SAMPLES && told.lost().isEmpty(), "a loss is said");
      store.append(List.of(sample(SAMPLES + 1)));
      assertEquals(kept.size() + 1, readings(store).size(), "it goes on");
      return told;
    }
  }

  private void again() throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      for (Path one : files.toList()) {
        Files.delete(one);
      }
    }
  }

  @Test
  void aWholeStoreIsNotTouched() throws IOException {
    write(whole);
    try (Store store = StoreFolder.open(folder)) {
      assertEquals(Optional.empty(), store.mended());
      assertEquals(SAMPLES, readings(store).size());
    }
  }

  @Test
  void anyOnePageMayBeEmptiedAndCostsOnlyWhatWasOnIt() throws IOException {
    int pages = whole.length / PAGE;
    assertTrue(pages > 100, "a store of " + pages + " pages");
    for (int page = 1; page < pages; page++) {
      byte[] damaged = whole.clone();
      Arrays.fill(damaged, page * PAGE, (page + 1) * PAGE, (byte) 0);
      write(damaged);
      mended(damaged, page + 1 == ROOT_OF_READINGS ? SAMPLES : ON_A_PAGE);
      again();
    }
  }

  @Test
  void aPageOfRubbishCostsOnlyWhatWasOnIt() throws IOException {
    long seed = Seed.value();
    Random random = new Random(seed);
    for (int i = 0; i < 40; i++) {
      byte[] damaged = whole.clone();
      int page = 20 + random.nextInt(whole.length / PAGE - 20);
      byte[] rubbish = new byte[PAGE];
      random.nextBytes(rubbish);
      System.arraycopy(rubbish, 0, damaged, page * PAGE, PAGE);
      mended(damaged, ON_A_PAGE);
      again();
    }
  }

  @Test
  void aTornLastPageCostsOnlyWhatWasOnIt() throws IOException {
    mended(Arrays.copyOf(whole, whole.length - PAGE / 2), ON_A_PAGE);
  }

  @Test
  void aFileCutInTheMiddleKeepsWhatIsBeforeTheCut() throws IOException {
    RepairReport told = mended(Arrays.copyOf(whole, whole.length / 2 / PAGE * PAGE), SAMPLES - 500);
    assertTrue(told.rowsKept() > 1000, told.words());
  }

  @Test
  void aHeaderOfRubbishLosesNothing() throws IOException {
    byte[] damaged = whole.clone();
    byte[] rubbish = new byte[100];
    new Random(5).nextBytes(rubbish);
    System.arraycopy(rubbish, 0, damaged, 0, rubbish.length);
    assertEquals(List.of(), mended(damaged, 0).lost());
  }

  @Test
  void theFirstPageMayBeGone() throws IOException {
    byte[] damaged = whole.clone();
    Arrays.fill(damaged, 0, PAGE, (byte) 0);
    assertEquals(List.of(), mended(damaged, 0).lost());
  }

  @Test
  void theFirstPageOfARestoredStoreMayBeGoneToo() throws IOException {
    write(whole);
    Path copy = shared.resolve("copy.db");
    try (Store store = StoreFolder.open(folder)) {
      store.copyTo(copy);
    }
    again();
    byte[] damaged = Files.readAllBytes(copy);
    Arrays.fill(damaged, 0, PAGE, (byte) 0);
    assertEquals(List.of(), mended(damaged, 0).lost());
  }

  @Test
  void eventsSettingsAndAveragesComeAlong() throws IOException {
    byte[] damaged = whole.clone();
    Arrays.fill(damaged, 9 * PAGE, 10 * PAGE, (byte) 0); // an index: no row is on it
    write(damaged);
    try (Store store = StoreFolder.open(folder)) {
      assertEquals(200, store.events().events("job/1").size());
      assertEquals(Optional.of("{\"mode\":\"house\"}"), store.events().setting("air/shop"));
      assertEquals(List.of(), store.mended().orElseThrow().lost());
      assertEquals(SAMPLES, store.marks().get(0).mark().sequence());
      assertEquals(
          SAMPLES,
          store
              .history()
              .between(ROOM, "lux", NOON, NOON.plus(Duration.ofDays(1)), 1)
              .buckets()
              .stream()
              .mapToLong(Bucket::n)
              .sum());
    }
  }

  /** Hours are made again from minutes, and stay where the minutes were dropped on purpose. */
  @Test
  void hoursAreRebuiltAndThoseWithoutMinutesAreKept() throws IOException {
    write(whole);
    Instant cut = NOON.plus(Duration.ofHours(6));
    SeriesHistory before;
    try (Store store = StoreFolder.open(folder)) {
      store.archive().dropBefore(Level.READINGS, cut, List.of());
      store.archive().dropBefore(Level.MINUTES, cut, List.of());
      before = hourly(store);
      assertEquals(SAMPLES, before.buckets().stream().mapToLong(Bucket::n).sum());
    }
    byte[] damaged = Files.readAllBytes(file());
    Arrays.fill(damaged, 9 * PAGE, 10 * PAGE, (byte) 0); // an index: no row is on it
    write(damaged);
    try (Store store = StoreFolder.open(folder)) {
      assertEquals(List.of(), store.mended().orElseThrow().lost());
      assertEquals(before, hourly(store));
    }
  }

  @Test
  void aPageOfHoursIsMadeAgainFromMinutesAndNothingIsMissing() throws Exception {
    write(whole);
    SeriesHistory before;
    int page;
    try (Store store = StoreFolder.open(folder);
        Connection connection = SqliteFile.look(file());
        Statement statement = connection.createStatement();
        ResultSet row =
            statement.executeQuery("select rootpage from sqlite_master where name = 'hour'")) {
      before = hourly(store);
      page = row.getInt(1) - 1;
    }
    byte[] damaged = whole.clone();
    Arrays.fill(damaged, page * PAGE, (page + 1) * PAGE, (byte) 0);
    write(damaged);
    try (Store store = StoreFolder.open(folder);
        Connection connection = SqliteFile.look(file());
        Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery("select count(*) from hour")) {
      assertEquals(List.of(), store.mended().orElseThrow().lost());
      assertEquals(before, hourly(store));
      assertEquals(33, row.getInt(1), "eleven full hours of three series");
    }
  }

  private static SeriesHistory hourly(Store store) {
    return store.history().between(ROOM, "lux", NOON, NOON.plus(Duration.ofDays(3)), 72);
  }

  @Test
  void whatIsOnlyInTheLogYetComesAlong() throws IOException {
    write(whole);
    byte[] log;
    try (Store store = StoreFolder.open(folder)) {
      store.append(List.of(sample(SAMPLES + 1), sample(SAMPLES + 2)));
      log = Files.readAllBytes(folder.resolve(SqliteFile.NAME + "-wal"));
    }
    again();
    byte[] damaged = whole.clone();
    new Random(6).nextBytes(damaged);
    System.arraycopy(whole, PAGE, damaged, PAGE, damaged.length - PAGE);
    System.arraycopy(whole, 100, damaged, 100, PAGE - 100);
    write(damaged);
    Files.write(folder.resolve(SqliteFile.NAME + "-wal"), log);
    try (Store store = StoreFolder.open(folder)) {
      assertEquals(SAMPLES + 2, readings(store).size());
    }
  }

  @Test
  void aStopJustBeforeTheLastStepIsMadeGoodAtTheNextStart() throws IOException {
    write(whole);
    Files.move(file(), folder.resolve("layroom-mended.db"));
    try (Store store = StoreFolder.open(folder)) {
      assertEquals(SAMPLES, readings(store).size());
    }
  }

  @Test
  void anEmptiedFileWithALogBesideItIsToldAsDamage() throws IOException {
    Files.write(file(), new byte[0]);
    Files.write(folder.resolve(SqliteFile.NAME + "-wal"), new byte[32]);
    try (Store store = StoreFolder.open(folder)) {
      assertTrue(store.mended().orElseThrow().problem().contains("empty"));
    }
  }

  @Test
  void aStopInTheMiddleOfMendingBeginsItAnew() throws IOException {
    byte[] damaged = whole.clone();
    Arrays.fill(damaged, whole.length - PAGE, whole.length, (byte) 0);
    Files.createDirectories(folder.resolve("mending"));
    Files.writeString(folder.resolve("mending").resolve("first.db"), "half of it");
    mended(damaged, ON_A_PAGE);
    assertFalse(Files.exists(folder.resolve("mending")));
  }

  @Test
  void anUpgradeKeepsTheStoreAsItWasAndTheOlderProgramRefusesTheNewOne() throws IOException {
    write(whole);
    List<String> more = new ArrayList<>(Schema.NEWEST.migrations());
    more.add("alter table device add column note text");
    StoreFolder.open(folder, new Schema(more), UpgradeProgress.toLog()).close();
    StoreFailure refused = assertThrows(StoreFailure.class, () -> StoreFolder.open(folder));
    assertTrue(String.valueOf(refused.getMessage()).contains("newer Layroom"));
    Path before = folder.resolve("layroom-before-version-" + more.size() + ".db");
    Files.move(before, file(), StandardCopyOption.REPLACE_EXISTING);
    try (Store store = StoreFolder.open(folder)) {
      assertEquals(SAMPLES, readings(store).size());
    }
  }

  @Test
  void aCopyMadeWhileTheStoreIsWrittenIsWholeAndHoldsNoSecret() throws IOException {
    write(whole);
    Path copy = shared.resolve("busy.db");
    try (Store store = StoreFolder.open(folder)) {
      store.append(List.of(sample(SAMPLES + 1)));
      store.copyTo(copy);
    }
    assertEquals(Schema.NEWEST.version(), StoreFolder.check(copy));
    String text = Files.readString(copy, StandardCharsets.ISO_8859_1);
    assertFalse(text.contains("a secret"));
    assertFalse(text.contains("layroom-1"));
    assertTrue(text.contains("{\"mode\":\"house\"}"));
    try (RandomAccessFile bytes = new RandomAccessFile(copy.toFile(), "rw")) {
      bytes.seek(bytes.length() / 2);
      bytes.write(new byte[PAGE]);
    }
    assertThrows(StoreFailure.class, () -> StoreFolder.check(copy));
  }
}
