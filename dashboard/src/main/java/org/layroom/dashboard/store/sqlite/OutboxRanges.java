package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.StoredRange;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.StoredMark;

/**
 * Which sequence numbers of an outbox are done, as ranges that never touch. The stored mark is the
 * end of the range that begins at 1, so it survives any restart.
 */
public final class OutboxRanges {
  private final PreparedStatement before;
  private final PreparedStatement after;
  private final PreparedStatement delete;
  private final PreparedStatement insert;
  private final PreparedStatement mark;

  public OutboxRanges(Connection connection) throws SQLException {
    before =
        connection.prepareStatement(
            "select first, last from outbox_range where outbox = ? and first <= ?"
                + " order by first desc limit 1");
    after =
        connection.prepareStatement(
            "select first, last from outbox_range where outbox = ? and first > ?"
                + " order by first limit 1");
    delete = connection.prepareStatement("delete from outbox_range where outbox = ? and first = ?");
    insert =
        connection.prepareStatement(
            "insert into outbox_range(outbox, first, last) values(?, ?, ?)");
    mark =
        connection.prepareStatement("select last from outbox_range where outbox = ? and first = 1");
  }

  private record Range(long first, long last) {}

  /** Marks numbers as done. False when all of them were done before. */
  public boolean add(long outbox, long first, long last) throws SQLException {
    long from = first;
    long to = last;
    Optional<Range> left = find(before, outbox, first).filter(r -> r.last() >= first - 1);
    if (left.isPresent()) {
      if (left.get().last() >= last) {
        return false;
      }
      from = left.get().first();
      remove(outbox, left.get());
    }
    Optional<Range> right = find(after, outbox, from);
    while (right.isPresent() && right.get().first() <= to + 1) {
      to = Math.max(to, right.get().last());
      remove(outbox, right.get());
      right = find(after, outbox, from);
    }
    insert.setLong(1, outbox);
    insert.setLong(2, from);
    insert.setLong(3, to);
    insert.executeUpdate();
    return true;
  }

  /** The highest number with everything up to and with it done; 0 when there is none. */
  long mark(long outbox) throws SQLException {
    mark.setLong(1, outbox);
    try (ResultSet row = mark.executeQuery()) {
      return row.next() ? row.getLong(1) : 0;
    }
  }

  private static Optional<Range> find(PreparedStatement query, long outbox, long first)
      throws SQLException {
    query.setLong(1, outbox);
    query.setLong(2, first);
    try (ResultSet row = query.executeQuery()) {
      return row.next() ? Optional.of(new Range(row.getLong(1), row.getLong(2))) : Optional.empty();
    }
  }

  private void remove(long outbox, Range range) throws SQLException {
    delete.setLong(1, outbox);
    delete.setLong(2, range.first());
    delete.executeUpdate();
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
