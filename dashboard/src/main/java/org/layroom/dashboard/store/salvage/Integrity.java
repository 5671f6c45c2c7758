package org.layroom.dashboard.store.salvage;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Optional;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/**
 * Whether a store's file is whole, by SQLite's own {@code integrity_check}: every page of every
 * table and index, and that they agree. It cannot see a value that was changed inside a row.
 */
final class Integrity {
  private static final int PRIMARY_CODE = 0xFF;

  private Integrity() {}

  /** What is wrong, in SQLite's words; empty when the file is whole. */
  static Optional<String> fault(Connection connection) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery("pragma integrity_check(1)")) {
      String words = row.next() ? row.getString(1) : "no answer";
      return words.equals("ok") ? Optional.empty() : Optional.of(words.replace('\n', ' '));
    } catch (SQLException e) {
      if (isDamage(e)) {
        return Optional.of(String.valueOf(e.getMessage()));
      }
      throw e;
    }
  }

  /** Whether SQLite failed because of what is in the file. */
  static boolean isDamage(SQLException e) {
    if (!(e instanceof SQLiteException sqlite)) {
      return false;
    }
    SQLiteErrorCode code = sqlite.getResultCode();
    int primary = code.code & PRIMARY_CODE;
    return primary == SQLiteErrorCode.SQLITE_CORRUPT.code
        || primary == SQLiteErrorCode.SQLITE_NOTADB.code
        || code == SQLiteErrorCode.SQLITE_IOERR_SHORT_READ;
  }
}
