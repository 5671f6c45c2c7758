package org.layroom.dashboard.store.salvage;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.dashboard.store.sqlite.Schema;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;

/** Whose data folder the store opens, and what it says when it does not. */
class StoreFolderTest {
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
  void aSecondDashboardOnTheSameFolderIsTurnedAwayWithWhatToDo() {
    try (Store store = StoreFolder.open(folder)) {
      assertEquals(List.of(), store.sources().rooms());
      StoreFailure refused = assertThrows(StoreFailure.class, () -> StoreFolder.open(folder));
      assertTrue(String.valueOf(refused.getMessage()).contains("in use by another"));
    }
    StoreFolder.open(folder).close();
  }

  private void inTheFile(String sql) throws SQLException {
    try (Connection connection =
            DriverManager.getConnection("jdbc:sqlite:" + folder.resolve("layroom.db"));
        Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }

  private String refusal() {
    return String.valueOf(
        assertThrows(StoreFailure.class, () -> StoreFolder.open(folder)).getMessage());
  }

  @Test
  void aStoreOfANewerVersionIsLeftAlone() throws SQLException {
    StoreFolder.open(folder).close();
    inTheFile("pragma user_version = 99");
    assertTrue(refusal().contains("newer Layroom"));
    inTheFile("pragma user_version = " + Schema.NEWEST.version());
    StoreFolder.open(folder).close();
  }

  @Test
  void anotherProgramsDatabaseIsLeftAlone() throws SQLException {
    inTheFile("create table cups(ml integer)");
    assertTrue(refusal().contains("not a Layroom store"));
  }

  @Test
  void aFileThatIsNoDatabaseIsLeftAlone() throws IOException {
    Path file = folder.resolve("layroom.db");
    Files.writeString(file, "a shopping list ".repeat(1000));
    assertTrue(refusal().contains("damaged or not a store"));
    assertTrue(Files.readString(file).startsWith("a shopping list"));
  }

  @Test
  void aStoreLockedByAnotherProgramSaysSoAndLosesNothing() throws SQLException {
    try (Store store = StoreFolder.open(folder);
        Connection browser =
            DriverManager.getConnection("jdbc:sqlite:" + folder.resolve("layroom.db"));
        Statement statement = browser.createStatement()) {
      statement.execute("begin immediate");
      StoreFailure refused =
          assertThrows(StoreFailure.class, () -> store.append(List.of(sample(1, NOON))));
      assertTrue(String.valueOf(refused.getMessage()).contains("another program holds"));
      statement.execute("rollback");
      assertEquals(List.of(true), store.append(List.of(sample(1, NOON))).fresh());
    }
  }
}
