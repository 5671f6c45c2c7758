package org.layroom.dashboard.store.salvage;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.store.sqlite.DroppedUntil;
import org.layroom.dashboard.store.sqlite.Schema;
import org.layroom.dashboard.store.sqlite.SqliteFile;

/**
 * Reads a damaged store row by row into a fresh one. Each table is read in the order of its key;
 * where SQLite meets a damaged page, the next readable key is looked for by doubling steps and then
 * halving them, so that one bad page costs the rows on it and a few dozen questions. Rows whose
 * values have not the type of their column are left out.
 */
final class Salvage {
  /** Keys of parents are tried this far beyond the highest seen: a parent's page may be gone. */
  private static final int BEYOND = 16;

  /** The version of the schema from which on a store has hourly averages. */
  private static final int HOURS_SINCE = 2;

  /** What the index of a table of names holds too: all that cannot be told anew. */
  private static final Map<String, List<String>> NAMES =
      Map.of(
          "device", List.of("id", "room", "name"),
          "outbox", List.of("id", "device", "name"),
          "series", List.of("id", "name"));

  private final Connection damaged;
  private final Connection fresh;
  private final Map<String, Long> kept = new LinkedHashMap<>();
  private final List<String> lost = new ArrayList<>();

  private Salvage(Connection damaged, Connection fresh) {
    this.damaged = damaged;
    this.fresh = fresh;
  }

  /**
   * What was found.
   *
   * @param unread tables of which nothing at all could be asked
   */
  record Found(Map<String, Long> kept, List<String> lost, int unread) {
    long rows() {
      return kept.values().stream().mapToLong(Long::longValue).sum();
    }

    boolean isBetterThan(Found other) {
      return rows() != other.rows() ? rows() > other.rows() : lost.size() < other.lost().size();
    }
  }

  /** Fills a fresh, empty store from a damaged one, which may be changed by being opened. */
  static Found read(Path damagedFile, Path freshFile, Schema schema) throws SQLException {
    try (Connection fresh = SqliteFile.connect(freshFile, false, 8192);
        Statement into = fresh.createStatement()) {
      into.execute("pragma journal_mode = delete");
      into.execute("pragma foreign_keys = off");
      schema.bringUpToDate(fresh);
      into.execute("begin immediate");
      Found found = readInto(fresh, damagedFile);
      into.execute("commit");
      return found;
    }
  }

  private static Found readInto(Connection fresh, Path damagedFile) throws SQLException {
    try (Connection damaged = SqliteFile.connect(damagedFile, false, 8192);
        Statement setting = damaged.createStatement()) {
      setting.execute("pragma writable_schema = on"); // goes on where the schema's text is damaged
      setting.execute("pragma cell_size_check = on");
      Salvage salvage = new Salvage(damaged, fresh);
      int unread = salvage.tables();
      new SalvageGaps(fresh).close(salvage.lostSomeOf("minute"), salvage.lostSomeOf("setting"));
      salvage.forgetHoursMadeAgain();
      return new Found(salvage.kept, List.copyOf(salvage.lost), unread);
    } catch (SQLException e) {
      if (Integrity.isDamage(e)) {
        return new Found(Map.of(), List.of(), Integer.MAX_VALUE);
      }
      throw e;
    }
  }

  private int tables() throws SQLException {
    int unread = 0;
    for (String table :
        List.of(
            "device",
            "outbox",
            "series",
            "setting",
            "source",
            "event",
            "rejected",
            "reading",
            "outbox_range",
            "latest",
            "minute",
            "hour")) {
      kept.put(table, 0L);
      Optional<TableReader> reader = TableReader.open(damaged, fresh, table);
      if (reader.isEmpty()) {
        if (!table.equals("hour") || hoursAreMissed()) {
          unread++;
          lost.add("all of " + words(table));
        }
        continue;
      }
      int holes = 0;
      for (List<Object> prefix : prefixes(table)) {
        holes += reader.get().copy(prefix);
      }
      boolean named = holes > 0 && reader.get().copyFromIndex(NAMES.getOrDefault(table, List.of()));
      kept.put(table, reader.get().rows());
      if (holes > 0 && !named) {
        lost.add("some of " + words(table) + " (" + holes + " damaged places)");
      }
    }
    return unread;
  }

  /**
   * Whether hourly averages that are nowhere to be found held more than minutes do: a store of the
   * first version has none, and nobody misses them while all minutes are there.
   */
  private boolean hoursAreMissed() throws SQLException {
    try (Statement statement = damaged.createStatement();
        ResultSet row = statement.executeQuery("pragma user_version")) {
      return row.getInt(1) >= HOURS_SINCE || DroppedUntil.minutes(fresh);
    }
  }

  /** A table whose key has several parts is read once for each beginning of the key. */
  private List<List<Object>> prefixes(String table) throws SQLException {
    return switch (table) {
      case "outbox_range" -> numbers(highest("select max(max(id), 0) from outbox"));
      case "latest" -> numbers(devices());
      case "minute", "hour" -> {
        List<List<Object>> pairs = new ArrayList<>();
        for (List<Object> device : numbers(devices())) {
          for (List<Object> series : numbers(highest("select max(id) from series"))) {
            pairs.add(List.of(device.get(0), series.get(0)));
          }
        }
        yield pairs;
      }
      default -> List.of(List.of());
    };
  }

  private long devices() throws SQLException {
    return Math.max(
        highest("select max(id) from device"), highest("select max(device) from reading"));
  }

  private static List<List<Object>> numbers(long highest) {
    List<List<Object>> all = new ArrayList<>();
    for (long id = 1; id <= Math.min(highest, 1000) + BEYOND; id++) {
      all.add(List.of(id));
    }
    return all;
  }

  private long highest(String sql) throws SQLException {
    try (PreparedStatement query = fresh.prepareStatement(sql);
        ResultSet row = query.executeQuery()) {
      return row.next() ? row.getLong(1) : 0;
    }
  }

  /** Hours are not lost where every minute is there to make them from. */
  private void forgetHoursMadeAgain() throws SQLException {
    if (!lostSomeOf("minute") && !DroppedUntil.minutes(fresh)) {
      lost.removeIf(said -> said.contains(words("hour")));
    }
  }

  private boolean lostSomeOf(String table) {
    return lost.stream().anyMatch(said -> said.contains(words(table)));
  }

  private static String words(String table) {
    return switch (table) {
      case "reading" -> "the readings";
      case "minute" -> "the one-minute averages";
      case "hour" -> "the hourly averages";
      case "event" -> "the parts' and warnings' history";
      case "setting" -> "the settings";
      case "device" -> "the devices' names";
      case "outbox" -> "the outboxes' names";
      case "outbox_range" -> "the stored marks";
      case "series" -> "the names of what is measured";
      case "source" -> "which device speaks for what";
      case "latest" -> "the latest values";
      case "rejected" -> "the rejected values";
      default -> table;
    };
  }
}
