package org.layroom.dashboard.store.salvage;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.layroom.dashboard.store.sqlite.Columns;
import org.layroom.dashboard.store.sqlite.DroppedUntil;
import org.layroom.dashboard.store.sqlite.OutboxRanges;
import org.layroom.dashboard.store.sqlite.Rollup;
import org.layroom.dashboard.store.sqlite.Rollups;

/**
 * Makes a salvaged store consistent again: names that were lost get one that says so, the stored
 * marks hold every reading that is there, and averages that were lost are worked out anew from the
 * readings that are left.
 */
final class SalvageGaps {
  private final Connection fresh;

  SalvageGaps(Connection fresh) {
    this.fresh = fresh;
  }

  /**
   * Closes what can be closed.
   *
   * @param averagesLost whether one-minute averages are missing
   * @param settingsLost whether it may be forgotten what was dropped on purpose
   */
  void close(boolean averagesLost, boolean settingsLost) throws SQLException {
    for (String holder : List.of("reading", "outbox", "minute", "hour", "latest", "rejected")) {
      run(
          "insert or ignore into device(id, room, name) select distinct device, 'recovered',"
              + " 'device-' || device from "
              + holder
              + " where device not in (select id from device)");
    }
    for (String holder : List.of("reading", "rejected")) {
      run(
          "insert or ignore into outbox(id, device, name) select outbox, min(device),"
              + " 'recovered-' || outbox from "
              + holder
              + " where outbox is not null and outbox not in (select id from outbox) group by"
              + " outbox");
    }
    for (String holder : List.of("minute", "hour", "latest")) {
      run(
          "insert or ignore into series(id, name) select distinct series, 'recovered-' || series"
              + " from "
              + holder
              + " where series not in (select id from series)");
    }
    run("delete from outbox_range where outbox not in (select id from outbox) or last < first");
    marks();
    if (averagesLost) {
      averages();
    }
    hours();
    if (settingsLost) {
      DroppedUntil.forget(fresh);
    }
  }

  /**
   * Every hour is worked out from its minutes, and the fuller of that and what was read is kept:
   * minutes may have been dropped, and hours lost.
   */
  private void hours() throws SQLException {
    run(
        "insert or ignore into hour(device, series, hour, n, sum, min, max) select device, series,"
            + " minute / "
            + Rollups.MINUTES
            + ", sum(n), sum(sum), min(min), max(max) from minute where true"
            + " group by device, series, minute / "
            + Rollups.MINUTES
            + " on conflict do update set "
            + Rollup.FULLER);
  }

  private record Range(long outbox, long first, long last) {}

  private void marks() throws SQLException {
    List<Range> ranges = new ArrayList<>();
    try (Statement statement = fresh.createStatement();
        ResultSet row =
            statement.executeQuery(
                "select outbox, min(sequence), max(sequence) from (select outbox, sequence,"
                    + " sequence - row_number() over (partition by outbox order by sequence) as run"
                    + " from (select outbox, sequence from reading where outbox is not null union"
                    + " select outbox, sequence from rejected where outbox is not null))"
                    + " group by outbox, run")) {
      while (row.next()) {
        ranges.add(new Range(row.getLong(1), row.getLong(2), row.getLong(3)));
      }
    }
    OutboxRanges marks = new OutboxRanges(fresh);
    for (Range range : ranges) {
      marks.add(range.outbox(), range.first(), range.last());
    }
    marks.flush();
  }

  private void averages() throws SQLException {
    String sums =
        "insert or ignore into minute(device, series, minute, n, sum, min, max) select device,"
            + " series.id, reading.time / "
            + Rollups.MINUTE_MILLIS
            + ", count(*), sum(value), min(value), max(value) from ";
    for (Map.Entry<String, String> column : Columns.BY_SERIES.entrySet()) {
      run("insert or ignore into series(name) values('" + column.getKey() + "')");
      run(
          sums.replace("value", column.getValue())
              + "reading join series on series.name = '"
              + column.getKey()
              + "' where "
              + column.getValue()
              + " is not null group by 1, 2, 3");
    }
    run(
        sums.replace("value", "json_extract(one.value, '$.v')")
            + "reading, json_each(reading.extra) as one join series on series.name = one.key"
            + " where json_valid(reading.extra) and json_extract(one.value, '$.v') is not null"
            + " group by 1, 2, 3");
  }

  private void run(String sql) throws SQLException {
    try (Statement statement = fresh.createStatement()) {
      statement.executeUpdate(sql);
    }
  }
}
