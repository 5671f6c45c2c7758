package org.layroom.dashboard.store.sqlite;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Statement;
import org.layroom.dashboard.store.EventLog;

/**
 * A consistent copy of an open store while others write to it (SQLite's {@code VACUUM INTO}, which
 * reads inside one transaction and leaves one file without a log beside it).
 */
final class StoreSnapshot {
  private StoreSnapshot() {}

  /** Writes the copy; the file must not be there yet. */
  static void into(Connection connection, Path copy) throws SQLException {
    try (PreparedStatement vacuum = connection.prepareStatement("vacuum into ?")) {
      vacuum.setString(1, copy.toString());
      vacuum.execute();
    }
  }

  /**
   * Takes out of a copy what belongs to one machine alone: private settings and the name by which
   * the broker knows this dashboard. They are overwritten, not only forgotten.
   */
  static void withoutWhatIsThisMachinesAlone(Path copy) throws SQLException {
    try (Connection connection = SqliteFile.connect(copy, false, 1024);
        Statement statement = connection.createStatement()) {
      statement.execute("pragma journal_mode = delete");
      statement.execute("pragma secure_delete = on");
      statement.execute(
          "delete from setting where name = '"
              + EventLog.CLIENT_ID
              + "' or substr(name, 1, "
              + EventLog.PRIVATE.length()
              + ") = '"
              + EventLog.PRIVATE
              + "'");
      statement.execute("vacuum");
    }
  }
}
