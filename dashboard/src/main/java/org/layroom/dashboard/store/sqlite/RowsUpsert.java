package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.Collection;
import java.util.HashMap;
import java.util.Iterator;
import java.util.Map;

/** One insert of many rows: a batch costs one statement a table, not one a row. */
final class RowsUpsert {
  /** Rows of one statement; more are written by several. */
  private static final int MOST = 32;

  private final Connection connection;
  private final String insert;
  private final String places;
  private final int columns;
  private final String onConflict;
  private final Map<Integer, PreparedStatement> byRows = new HashMap<>();

  /** Sets the columns of one row, the first of them at a given place. */
  interface Binding<T> {
    void bind(PreparedStatement statement, int first, T row) throws SQLException;
  }

  /**
   * Prepares nothing yet.
   *
   * @param insert up to the word {@code values}
   * @param onConflict what follows the rows
   */
  RowsUpsert(Connection connection, String insert, int columns, String onConflict) {
    this.connection = connection;
    this.insert = insert;
    this.columns = columns;
    this.onConflict = onConflict;
    places = "(?" + ", ?".repeat(columns - 1) + ")";
  }

  <T> void write(Collection<T> rows, Binding<T> binding) throws SQLException {
    Iterator<T> rest = rows.iterator();
    int left = rows.size();
    while (left > 0) {
      int now = Math.min(MOST, left);
      PreparedStatement statement = statement(now);
      for (int i = 0; i < now; i++) {
        binding.bind(statement, 1 + i * columns, rest.next());
      }
      statement.executeUpdate();
      left -= now;
    }
  }

  private PreparedStatement statement(int rows) throws SQLException {
    PreparedStatement known = byRows.get(rows);
    if (known == null) {
      known =
          connection.prepareStatement(
              insert
                  + " values"
                  + places
                  + (", " + places).repeat(rows - 1)
                  + " on conflict do update set "
                  + onConflict);
      byRows.put(rows, known);
    }
    return known;
  }
}
