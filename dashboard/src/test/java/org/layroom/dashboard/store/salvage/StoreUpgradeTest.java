package org.layroom.dashboard.store.salvage;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Stream;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.SeriesHistory;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.dashboard.store.sqlite.Schema;
import org.layroom.dashboard.store.sqlite.SqliteFile;
import org.layroom.dashboard.store.sqlite.UpgradeProgress;
import org.layroom.device.telemetry.RoomName;

/**
 * A store of 60 days with the schema of 0.1.0 (invented readings of two devices, one day and some
 * hours missing) is upgraded, and stopped anywhere. What a killed program leaves on the disk is
 * taken at every step: the files as they are at that moment.
 */
class StoreUpgradeTest {
  private static final RoomName ROOM = RoomName.of("shop");
  private static final Instant FROM = Instant.parse("2026-09-15T00:00:00Z");
  private static final Instant TO = FROM.plus(Duration.ofDays(60));
  private static final List<String> TABLES =
      List.of("reading", "minute", "event", "rejected", "outbox_range", "latest", "setting");

  @TempDir Path folder;
  private Path home = Path.of("");

  @BeforeEach
  void aStoreOfTheFirstVersion() throws IOException {
    home = Files.createDirectory(folder.resolve("home"));
    try (InputStream packed =
            Objects.requireNonNull(
                StoreUpgradeTest.class.getResourceAsStream(
                    "/org/layroom/dashboard/store/version-1.db.gz"));
        InputStream store = new GZIPInputStream(packed)) {
      Files.copy(store, home.resolve(SqliteFile.NAME));
    }
  }

  private static long number(Path file, String sql) throws SQLException {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
        Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery(sql)) {
      return row.getLong(1);
    }
  }

  /** Rows of each table, and the values that the minutes and readings hold. */
  private static Map<String, Long> counts(Path folder) throws SQLException {
    Path file = folder.resolve(SqliteFile.NAME);
    Map<String, Long> counts = new LinkedHashMap<>();
    for (String table : TABLES) {
      counts.put(table, number(file, "select count(*) from " + table));
    }
    counts.put("values of minutes", number(file, "select sum(n) from minute"));
    counts.put("sum of readings", number(file, "select round(sum(temperature)) from reading"));
    return counts;
  }

  private static SeriesHistory strip(Store store, String series) {
    return store.history().between(ROOM, series, FROM, TO, 500);
  }

  private static void requireHours(Path folder) throws SQLException {
    Path file = folder.resolve(SqliteFile.NAME);
    assertEquals(Schema.NEWEST.version(), number(file, "pragma user_version"));
    assertEquals(
        0,
        number(
            file,
            "select count(*) from (select device, series, minute / 60 as hour, sum(n) as n,"
                + " min(min) as lowest, max(max) as highest from minute group by 1, 2, 3) as made"
                + " left join hour using (device, series, hour) where (hour.n is not made.n or"
                + " hour.min is not lowest or hour.max is not highest) and hour < (select"
                + " max(minute) / 60 from minute as m where m.device = made.device"
                + " and m.series = made.series)"));
    assertNotEquals(0, number(file, "select count(*) from hour"));
  }

  @Test
  void nothingIsLostProgressIsToldAndTheOldStoreStaysBesideIt() throws Exception {
    Map<String, Long> before = counts(home);
    List<String> told = new ArrayList<>();
    UpgradeProgress progress = (what, done, of) -> told.add(what + " " + done + "/" + of);
    try (Store store = StoreFolder.open(home, Schema.NEWEST, progress)) {
      assertEquals(Duration.ofHours(3), strip(store, "temperature").bucketWidth());
    }
    assertEquals(before, counts(home));
    requireHours(home);
    assertTrue(told.size() > 8, told.toString());
    assertTrue(told.get(0).startsWith("copying"), told.toString());
    String last = told.get(told.size() - 1);
    assertTrue(last.matches("hourly averages (\\d+)/\\1"), last);
    Path copy = home.resolve("layroom-before-version-" + Schema.NEWEST.version() + ".db");
    assertEquals(1, number(copy, "pragma user_version"));
    assertEquals(before.get("reading"), number(copy, "select count(*) from reading"));
    told.clear();
    StoreFolder.open(home, Schema.NEWEST, progress).close();
    assertEquals(List.of(), told, "an upgraded store is not upgraded again");
  }

  private static void copy(Path from, Path to) {
    try (Stream<Path> files = Files.list(from)) {
      Files.createDirectories(to);
      for (Path file : files.toList()) {
        Files.copy(file, to.resolve(Objects.requireNonNull(file.getFileName())));
      }
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  @Test
  void killedAtAnyStepItGoesOnAtTheNextStartAndLosesNothing() throws Exception {
    Map<String, Long> before = counts(home);
    List<Path> killed = new ArrayList<>();
    UpgradeProgress progress =
        (what, done, of) -> {
          Path left = folder.resolve("killed-" + killed.size());
          copy(home, left);
          killed.add(left);
        };
    SeriesHistory expected;
    try (Store store = StoreFolder.open(home, Schema.NEWEST, progress)) {
      expected = strip(store, "temperature");
    }
    assertTrue(killed.size() > 8, killed.size() + " steps");
    for (Path left : killed) {
      try (Store store = StoreFolder.open(left)) {
        assertEquals(expected, strip(store, "temperature"), left.toString());
      }
      assertEquals(before, counts(left), left.toString());
      requireHours(left);
      try (Stream<Path> files = Files.list(left)) {
        assertEquals(
            1,
            files.filter(file -> file.toString().contains("before-version")).count(),
            "one copy of the old store: " + left);
      }
    }
  }

  /** A program that is killed twice, each time in the middle of another step. */
  @Test
  void stoppedAgainAndAgainItComesToItsEnd() throws Exception {
    Map<String, Long> before = counts(home);
    int starts = 0;
    boolean done = false;
    while (!done) {
      int[] steps = {0};
      int last = 3 + starts;
      UpgradeProgress progress =
          (what, at, of) -> {
            if (++steps[0] > last) {
              throw new IllegalStateException("stopped");
            }
          };
      starts++;
      try (Store store = StoreFolder.open(home, Schema.NEWEST, progress)) {
        assertEquals(List.of(ROOM), store.sources().rooms());
        done = true;
      } catch (IllegalStateException e) {
        assertTrue(starts < 20, "it comes no further");
      }
    }
    assertTrue(starts > 1);
    assertEquals(before, counts(home));
    requireHours(home);
  }

  @Test
  void anUpgradeThatWouldLoseRowsIsNotDone() throws Exception {
    Map<String, Long> before = counts(home);
    List<String> careless = new ArrayList<>(Schema.NEWEST.migrations());
    careless.add("delete from event where position = 1");
    StoreFailure refused =
        assertThrows(
            StoreFailure.class,
            () -> StoreFolder.open(home, new Schema(careless), UpgradeProgress.toLog()));
    assertTrue(String.valueOf(refused.getMessage()).contains("was not upgraded"));
    assertEquals(before, counts(home));
    assertEquals(1, number(home.resolve(SqliteFile.NAME), "pragma user_version"));
  }

  @Test
  void aDamagedStoreOfTheFirstVersionIsRebuiltWithItsHours() throws Exception {
    Path file = home.resolve(SqliteFile.NAME);
    Map<String, Long> before = counts(home);
    byte[] whole = Files.readAllBytes(file);
    byte[] damaged = whole.clone();
    Arrays.fill(damaged, 0, 4096, (byte) 0);
    Files.write(file, damaged);
    try (Store store = StoreFolder.open(home)) {
      assertEquals(List.of(), store.mended().orElseThrow().lost());
    }
    Map<String, Long> after = counts(home);
    after.merge("setting", -1L, Long::sum); // what became of the damaged one
    assertEquals(before, after);
    requireHours(home);
  }
}
