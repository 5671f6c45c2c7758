package org.layroom.dashboard.store.sqlite;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.Bucket;
import org.layroom.dashboard.store.Level;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;

/** Old rows are found by index. */
class SqliteArchiveTest {
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Instant NOON = Instant.parse("2026-11-02T12:00:00Z");

  @TempDir Path folder;

  private static StoreEntry.Sample sample(long sequence, Instant time) {
    return new StoreEntry.Sample(
        BENCH,
        Optional.of(new OutboxPosition("box", sequence)),
        SampleTimes.asSaid(time, time.plusSeconds(1)),
        List.of(Reading.of("temperature", "Cel", 20)),
        List.of());
  }

  @Test
  void oldReadingsAreFoundByIndexAndDroppedInPortions() throws SQLException {
    int old = 4500;
    List<StoreEntry> entries = new ArrayList<>();
    for (int i = 1; i <= old; i++) {
      entries.add(sample(i, NOON.plusSeconds(i)));
    }
    try (Store store = SqliteStore.open(FolderLock.take(folder), Schema.NEWEST)) {
      store.append(entries);
      store.append(List.of(sample(old + 1, NOON.plusSeconds(old).plus(Duration.ofHours(1)))));
      assertEquals(
          old, store.archive().dropBefore(Level.READINGS, NOON.plusSeconds(old + 5), List.of()));
      assertEquals(List.of(old + 1L), store.archive().sequences(BENCH, "box"));
    }
    String plan = plan(SqliteArchive.DROP_READINGS);
    assertTrue(plan.contains("reading_time") && !plan.contains("SCAN reading"), plan);
  }

  @Test
  void readingsOfAnOpenHourStayUntilTheirAveragesAreWritten() throws SQLException {
    try (Store store = SqliteStore.open(FolderLock.take(folder), Schema.NEWEST)) {
      store.append(List.of(sample(1, NOON), sample(2, NOON.plusSeconds(3600))));
      Instant later = NOON.plus(Duration.ofDays(500));
      assertEquals(1, store.archive().dropBefore(Level.READINGS, later, List.of()));
      assertEquals(List.of(2L), store.archive().sequences(BENCH, "box"));
      assertEquals(
          2,
          store
              .history()
              .between(BENCH.room(), "temperature", NOON, NOON.plusSeconds(7200), 2)
              .buckets()
              .stream()
              .mapToLong(Bucket::n)
              .sum());
    }
  }

  private String plan(String sql) throws SQLException {
    StringBuilder plan = new StringBuilder();
    try (Connection connection =
            DriverManager.getConnection("jdbc:sqlite:" + folder.resolve("layroom.db"));
        Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery("explain query plan " + sql)) {
      while (row.next()) {
        plan.append(row.getString("detail")).append('\n');
      }
    }
    return plan.toString();
  }
}
