package org.layroom.dashboard.store.salvage;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import org.jspecify.annotations.Nullable;

/** One table of a damaged store, read past its damaged places into a fresh one. */
final class TableReader {
  /** The last part of a table's key where that is a number; the others are read from both ends. */
  private static final Map<String, List<String>> KEYS =
      Map.of(
          "outbox_range", List.of("outbox", "first"),
          "latest", List.of("device", "series"),
          "minute", List.of("device", "series", "minute"),
          "hour", List.of("device", "series", "hour"),
          "setting", List.of(),
          "source", List.of());

  private static final List<String> ROW_ID = List.of("rowid");

  private record Column(String name, String type, boolean required) {
    boolean takes(@Nullable Object value) {
      if (value == null) {
        return !required;
      }
      return switch (type) {
        case "integer" -> value instanceof Integer || value instanceof Long;
        case "real" -> value instanceof Number;
        default -> value instanceof String;
      };
    }
  }

  private final Connection damaged;
  private final Connection fresh;
  private final String table;
  private final List<Column> columns;
  private final List<String> key;
  private final PreparedStatement insert;
  private long rows;

  private TableReader(Connection damaged, Connection fresh, String table) throws SQLException {
    this.damaged = damaged;
    this.fresh = fresh;
    this.table = table;
    columns = columns(fresh, table);
    key = KEYS.getOrDefault(table, ROW_ID);
    insert =
        fresh.prepareStatement(
            "insert or ignore into "
                + table
                + "("
                + names()
                + ") values("
                + String.join(", ", columns.stream().map(column -> "?").toList())
                + ")");
  }

  /** Empty when the damaged file does not know the table. */
  static Optional<TableReader> open(Connection damaged, Connection fresh, String table)
      throws SQLException {
    TableReader reader = new TableReader(damaged, fresh, table);
    try (PreparedStatement question = damaged.prepareStatement(reader.select("") + " limit 0")) {
      question.executeQuery().close();
      return Optional.of(reader);
    } catch (SQLException e) {
      return Optional.empty();
    }
  }

  private static List<Column> columns(Connection fresh, String table) throws SQLException {
    List<Column> all = new ArrayList<>();
    try (Statement statement = fresh.createStatement();
        ResultSet row = statement.executeQuery("pragma table_info(" + table + ")")) {
      while (row.next()) {
        all.add(
            new Column(
                row.getString("name"),
                row.getString("type").toLowerCase(Locale.ROOT),
                row.getBoolean("notnull")));
      }
    }
    return all;
  }

  private String names() {
    return String.join(", ", columns.stream().map(Column::name).toList());
  }

  private String select(String order) {
    return "select " + names() + " from " + table + order;
  }

  /** How many rows were taken over so far. */
  long rows() {
    return rows;
  }

  /**
   * Takes over every readable row whose key begins so.
   *
   * @return how many damaged places were met
   */
  int copy(List<Object> prefix) throws SQLException {
    return key.isEmpty() ? fromBothEnds() : inOrder(prefix);
  }

  /** A small table under a key of words: from the front until it fails, then from the back. */
  private int fromBothEnds() throws SQLException {
    String first = columns.get(0).name();
    try {
      stream(select(" order by " + first));
      return 0;
    } catch (SQLException e) {
      requireDamage(e);
    }
    try {
      stream(select(" order by " + first + " desc"));
    } catch (SQLException e) {
      requireDamage(e);
    }
    return 1;
  }

  /**
   * Takes over what is missing from an index that holds these columns.
   *
   * @return whether all of the index could be read
   */
  boolean copyFromIndex(List<String> held) throws SQLException {
    if (held.isEmpty()) {
      return false;
    }
    String some = String.join(", ", held);
    try (PreparedStatement query =
            damaged.prepareStatement(
                "select " + some + " from " + table + " order by " + orderOfIndex(held));
        PreparedStatement add =
            fresh.prepareStatement(
                "insert or ignore into "
                    + table
                    + "("
                    + some
                    + ") values("
                    + String.join(", ", held.stream().map(column -> "?").toList())
                    + ")");
        ResultSet row = query.executeQuery()) {
      while (row.next()) {
        for (int i = 0; i < held.size(); i++) {
          add.setObject(i + 1, row.getObject(i + 1));
        }
        rows += add.executeUpdate();
      }
      return true;
    } catch (SQLException e) {
      requireDamage(e);
      return false;
    }
  }

  private static String orderOfIndex(List<String> held) {
    return String.join(", ", held.subList(1, held.size()));
  }

  private void stream(String sql) throws SQLException {
    try (PreparedStatement query = damaged.prepareStatement(sql);
        ResultSet row = query.executeQuery()) {
      while (row.next()) {
        take(row);
      }
    }
  }

  private int inOrder(List<Object> prefix) throws SQLException {
    int holes = 0;
    long after = -1; // no key of a store is negative
    while (true) {
      Streamed streamed = streamAfter(prefix, after);
      if (!streamed.broken()) {
        return holes;
      }
      holes++;
      OptionalLong next = nextReadable(prefix, streamed.last());
      if (next.isEmpty()) {
        return holes;
      }
      boolean nothingCame = streamed.last() == after && next.getAsLong() == after + 1;
      if (nothingCame) { // the key can be read and the rest of its row cannot: it is passed over
        OptionalLong row = probe(prefix, next.getAsLong()).key();
        if (row.isEmpty()) {
          return holes;
        }
        after = row.getAsLong();
      } else {
        after = next.getAsLong() - 1;
      }
    }
  }

  private record Streamed(long last, boolean broken) {}

  private Streamed streamAfter(List<Object> prefix, long after) throws SQLException {
    long last = after;
    try (PreparedStatement query =
        damaged.prepareStatement(select(where(">") + " order by " + lastKey()))) {
      bind(query, prefix, after);
      try (ResultSet row = query.executeQuery()) {
        while (row.next()) {
          long at = keyOf(row);
          if (at <= last) {
            return new Streamed(last, true);
          }
          last = at;
          take(row);
        }
      }
      return new Streamed(last, false);
    } catch (SQLException e) {
      requireDamage(e);
      return new Streamed(last, true);
    }
  }

  private long keyOf(ResultSet row) throws SQLException {
    return row.getLong(key.equals(ROW_ID) ? columns.get(0).name() : lastKey());
  }

  private String lastKey() {
    return key.get(key.size() - 1);
  }

  private String where(String comparison) {
    StringBuilder sql = new StringBuilder(" where ");
    for (String part : key.subList(0, key.size() - 1)) {
      sql.append(part).append(" = ? and ");
    }
    return sql.append(lastKey()).append(' ').append(comparison).append(" ?").toString();
  }

  private void bind(PreparedStatement query, List<Object> prefix, long at) throws SQLException {
    int place = 1;
    for (Object part : prefix.subList(0, key.size() - 1)) {
      query.setObject(place++, part);
    }
    query.setLong(place, at);
  }

  /** The first key after a damaged place at which the table can be read; empty when none. */
  private OptionalLong nextReadable(List<Object> prefix, long last) throws SQLException {
    long good = 0;
    long bad = last;
    boolean found = false;
    for (long step = 1; step > 0 && !found && last <= Long.MAX_VALUE - step; step *= 2) {
      if (readableAt(prefix, last + step)) {
        good = last + step;
        found = true;
      } else {
        bad = last + step;
      }
    }
    if (!found) {
      return OptionalLong.empty();
    }
    while (good - bad > 1) {
      long middle = bad + (good - bad) / 2;
      if (readableAt(prefix, middle)) {
        good = middle;
      } else {
        bad = middle;
      }
    }
    return OptionalLong.of(good);
  }

  private boolean readableAt(List<Object> prefix, long at) throws SQLException {
    return probe(prefix, at).readable();
  }

  private record Probe(boolean readable, OptionalLong key) {
    static final Probe DAMAGED = new Probe(false, OptionalLong.empty());
  }

  /** The first key from a place on. */
  private Probe probe(List<Object> prefix, long at) throws SQLException {
    String question = "select " + lastKey() + " from " + table + where(">=");
    try (PreparedStatement query =
        damaged.prepareStatement(question + " order by " + lastKey() + " limit 1")) {
      bind(query, prefix, at);
      try (ResultSet row = query.executeQuery()) {
        if (!row.next()) {
          return new Probe(true, OptionalLong.empty());
        }
        long key = row.getLong(1);
        return key >= at ? new Probe(true, OptionalLong.of(key)) : Probe.DAMAGED;
      }
    } catch (SQLException e) {
      requireDamage(e);
      return Probe.DAMAGED;
    }
  }

  private void take(ResultSet row) throws SQLException {
    for (int i = 0; i < columns.size(); i++) {
      Object value = row.getObject(i + 1);
      if (!columns.get(i).takes(value)) {
        return;
      }
      insert.setObject(i + 1, value);
    }
    rows += insert.executeUpdate();
  }

  private static void requireDamage(SQLException e) throws SQLException {
    if (!Integrity.isDamage(e)) {
      throw e;
    }
  }
}
