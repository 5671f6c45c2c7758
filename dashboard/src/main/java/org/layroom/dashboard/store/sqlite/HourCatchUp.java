package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import org.layroom.dashboard.store.StoreFailure;

/**
 * Makes the hourly averages of a store that has none yet, series by series and from the oldest
 * minute on, some weeks a transaction. {@link Rollups} reads from the table how far it has come, so
 * whatever is committed is right, and the next start goes on from there.
 */
final class HourCatchUp {
  /** Hours of one transaction: 30 days. */
  static final long STEP = 720;

  /** Adds the hours of a stretch of minutes in which none is in the table yet. */
  private static final String FROM_MINUTES =
      "insert or ignore into hour(device, series, hour, n, sum, min, max) select device, series,"
          + " minute / 60, sum(n), sum(sum), min(min), max(max) from minute where device = ?1"
          + " and series = ?2 and minute >= ?3 * 60 and minute < ?4 * 60"
          + " group by device, series, minute / 60";

  private static final String WHAT = "hourly averages";

  private final Connection writer;
  private final UpgradeProgress progress;
  private long done;
  private long total;

  HourCatchUp(Connection writer, UpgradeProgress progress) {
    this.writer = writer;
    this.progress = progress;
  }

  /** A series that has hours to be made: those from the first to before the last. */
  private record Due(long device, long series, long first, long last) {}

  void run() throws SQLException {
    List<Due> all = due();
    if (all.isEmpty()) {
      return;
    }
    total = all.stream().mapToLong(due -> due.last() - due.first()).sum();
    for (Due due : all) {
      make(due);
      requireSame(due);
    }
    progress.at(WHAT, total, total);
  }

  private List<Due> due() throws SQLException {
    List<Due> due = new ArrayList<>();
    List<Long> series = numbers("select id from series order by id");
    for (long device : numbers("select id from device order by id")) {
      for (long one : series) {
        long until =
            number("select max(hour) from hour where device = ?1 and series = ?2", device, one)
                    .orElse(-1)
                + 1;
        OptionalLong first =
            number(
                "select min(minute) / 60 from minute where device = ?1 and series = ?2"
                    + " and minute >= ?3 * 60",
                device,
                one,
                until);
        OptionalLong last =
            number(
                "select max(minute) / 60 + 1 from minute where device = ?1 and series = ?2",
                device,
                one);
        if (first.isPresent() && last.isPresent() && first.getAsLong() < last.getAsLong()) {
          due.add(new Due(device, one, first.getAsLong(), last.getAsLong()));
        }
      }
    }
    return due;
  }

  private void make(Due due) throws SQLException {
    for (long from = due.first(); from < due.last(); from += STEP) {
      long to = Math.min(due.last(), from + STEP);
      progress.at(WHAT, done, total);
      try (Statement statement = writer.createStatement();
          PreparedStatement make = writer.prepareStatement(FROM_MINUTES)) {
        statement.execute("begin immediate");
        try {
          make.setLong(1, due.device());
          make.setLong(2, due.series());
          make.setLong(3, from);
          make.setLong(4, to);
          make.executeUpdate();
          progress.at(WHAT, done, total);
          statement.execute("commit");
        } catch (SQLException | RuntimeException | Error e) {
          statement.execute("rollback");
          throw e;
        }
      }
      done += to - from;
    }
  }

  /** Every value that is in the minutes is in the hours. */
  private void requireSame(Due due) throws SQLException {
    OptionalLong minutes =
        number(
            "select sum(n) from minute where device = ?1 and series = ?2 and minute >= ?3 * 60"
                + " and minute < (select 60 * max(hour) + 60 from hour where device = ?1"
                + " and series = ?2)",
            due.device(),
            due.series(),
            due.first());
    OptionalLong hours =
        number(
            "select sum(n) from hour where device = ?1 and series = ?2 and hour >= ?3",
            due.device(),
            due.series(),
            due.first());
    if (!minutes.equals(hours)) {
      try (Statement statement = writer.createStatement()) {
        statement.execute(
            "delete from hour where device = " + due.device() + " and series = " + due.series());
      }
      throw new StoreFailure(
          "Hourly averages could not be made: "
              + hours
              + " values of "
              + minutes
              + ". Readings and minutes are as they were. Start again; if that does not help, go"
              + " back to the copy that was made before the upgrade.");
    }
  }

  private List<Long> numbers(String sql) throws SQLException {
    List<Long> all = new ArrayList<>();
    try (Statement statement = writer.createStatement();
        ResultSet row = statement.executeQuery(sql)) {
      while (row.next()) {
        all.add(row.getLong(1));
      }
    }
    return all;
  }

  private OptionalLong number(String sql, long... parameters) throws SQLException {
    try (PreparedStatement query = writer.prepareStatement(sql)) {
      for (int i = 0; i < parameters.length; i++) {
        query.setLong(i + 1, parameters[i]);
      }
      try (ResultSet row = query.executeQuery()) {
        long value = row.getLong(1);
        return row.wasNull() ? OptionalLong.empty() : OptionalLong.of(value);
      }
    }
  }
}
