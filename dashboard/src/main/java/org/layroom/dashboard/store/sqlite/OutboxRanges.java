package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.layroom.dashboard.store.NumberRanges;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.StoredRange;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.StoredMark;

/**
 * Which sequence numbers of an outbox are done, as ranges that never touch. The stored mark is the
 * end of the range that begins at 1, so it survives any restart.
 *
 * <p>The ranges of an outbox are read once and then known; {@link #flush} writes those that a batch
 * has changed, one row where readings come in order.
 */
public final class OutboxRanges {
  private final PreparedStatement read;
  private final PreparedStatement delete;
  private final PreparedStatement upsert;
  private final Map<Long, Ranges> known = new HashMap<>();

  /** The ranges of one outbox, and the first numbers of those that differ from the table. */
  private static final class Ranges {
    private final NumberRanges numbers = new NumberRanges();
    private final Set<Long> changed = new HashSet<>();
  }

  public OutboxRanges(Connection connection) throws SQLException {
    read = connection.prepareStatement("select first, last from outbox_range where outbox = ?");
    delete = connection.prepareStatement("delete from outbox_range where outbox = ? and first = ?");
    upsert =
        connection.prepareStatement(
            "insert into outbox_range(outbox, first, last) values(?, ?, ?)"
                + " on conflict do update set last = excluded.last");
  }

  /** To be called after a rollback. */
  void forget() {
    known.clear();
  }

  /** Marks numbers as done. False when all of them were done before. */
  public boolean add(long outbox, long first, long last) throws SQLException {
    Ranges ranges = of(outbox);
    return ranges.numbers.add(first, last, ranges.changed::add);
  }

  /** Writes what has changed since the last time. */
  public void flush() throws SQLException {
    for (Map.Entry<Long, Ranges> outbox : known.entrySet()) {
      for (long first : outbox.getValue().changed) {
        Optional<Long> last = outbox.getValue().numbers.last(first);
        PreparedStatement statement = last.isPresent() ? upsert : delete;
        statement.setLong(1, outbox.getKey());
        statement.setLong(2, first);
        if (last.isPresent()) {
          statement.setLong(3, last.get());
        }
        statement.executeUpdate();
      }
      outbox.getValue().changed.clear();
    }
  }

  /** The highest number with everything up to and with it done; 0 when there is none. */
  long mark(long outbox) throws SQLException {
    return of(outbox).numbers.last(1).orElse(0L);
  }

  private Ranges of(long outbox) throws SQLException {
    Ranges ranges = known.get(outbox);
    if (ranges == null) {
      ranges = new Ranges();
      read.setLong(1, outbox);
      try (ResultSet row = read.executeQuery()) {
        while (row.next()) {
          ranges.numbers.add(row.getLong(1), row.getLong(2), first -> {});
        }
      }
      known.put(outbox, ranges);
    }
    return ranges;
  }

  /** Every range of every outbox. */
  static List<StoredRange> allRanges(Connection connection) throws SQLException {
    List<StoredRange> all = new ArrayList<>();
    try (PreparedStatement query =
            connection.prepareStatement(
                "select device.room, device.name, outbox.name, first, last from outbox_range"
                    + " join outbox on outbox.id = outbox_range.outbox"
                    + " join device on device.id = outbox.device");
        ResultSet row = query.executeQuery()) {
      while (row.next()) {
        all.add(
            new StoredRange(
                Channel.of(row.getString(1), row.getString(2)),
                row.getString(3),
                row.getLong(4),
                row.getLong(5)));
      }
    }
    return all;
  }

  /** The mark of every outbox ever seen. */
  static List<OutboxMark> allMarks(Connection connection) throws SQLException {
    List<OutboxMark> all = new ArrayList<>();
    try (PreparedStatement query =
            connection.prepareStatement(
                "select device.room, device.name, outbox.name, coalesce((select last from"
                    + " outbox_range where outbox = outbox.id and first = 1), 0)"
                    + " from outbox join device on device.id = outbox.device order by outbox.id");
        ResultSet row = query.executeQuery()) {
      while (row.next()) {
        all.add(
            new OutboxMark(
                Channel.of(row.getString(1), row.getString(2)),
                new StoredMark(row.getString(3), row.getLong(4))));
      }
    }
    return all;
  }
}
