package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.layroom.dashboard.store.DaySummary;
import org.layroom.dashboard.store.History;
import org.layroom.dashboard.store.SeriesHistory;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.RoomName;

/** Questions about the past of one series, asked of the reading and minute tables. */
final class SqliteHistory implements History {
  private final Database database;

  SqliteHistory(Database database) {
    this.database = database;
  }

  @Override
  public SeriesHistory between(RoomName room, String series, Instant from, Instant to, int points) {
    if (points < 1 || points > MOST_POINTS) {
      throw new IllegalArgumentException("points " + points + ": must be 1 to " + MOST_POINTS);
    }
    if (!from.isBefore(to)) {
      throw new IllegalArgumentException("from " + from + " must be before to " + to);
    }
    Columns.expression(series);
    return database.read(
        "read the history",
        connection -> {
          Optional<SqliteSources.Source> source = SqliteSources.find(connection, room, series);
          if (source.isEmpty()) {
            long width = StripQuery.ceilDiv(to.toEpochMilli() - from.toEpochMilli(), points);
            return new SeriesHistory(Optional.empty(), Duration.ofMillis(width), List.of());
          }
          StripQuery.Strip strip =
              asOfOneMoment(
                  connection,
                  () ->
                      new StripQuery(connection, source.get().id(), series).ask(from, to, points));
          return new SeriesHistory(
              Optional.of(source.get().device()), strip.width(), strip.buckets());
        });
  }

  private interface Question<T> {
    T answer() throws SQLException;
  }

  /** Several statements that see the same store, whatever is written meanwhile. */
  private static <T> T asOfOneMoment(Connection connection, Question<T> question)
      throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute("begin");
      try {
        return question.answer();
      } finally {
        statement.execute("rollback");
      }
    }
  }

  @Override
  public long countReadings(RoomName room, Instant from, Instant to) {
    return database.read(
        "count readings",
        connection -> {
          try (PreparedStatement query =
              connection.prepareStatement(
                  "select count(*) from reading join device on device.id = reading.device"
                      + " where room = ? and time >= ? and time < ?")) {
            query.setString(1, room.value());
            query.setLong(2, from.toEpochMilli());
            query.setLong(3, to.toEpochMilli());
            try (ResultSet row = query.executeQuery()) {
              return row.getLong(1);
            }
          }
        });
  }

  @Override
  public List<DaySummary> daily(RoomName room, String series, ZoneId zone) {
    Map<LocalDate, Rollup> days = new TreeMap<>();
    values(
        room,
        series,
        Instant.EPOCH,
        Instant.ofEpochMilli(Long.MAX_VALUE),
        (time, value) ->
            days.computeIfAbsent(LocalDate.ofInstant(time, zone), day -> new Rollup()).add(value));
    List<DaySummary> summaries = new ArrayList<>();
    days.forEach((date, day) -> summaries.add(day.summary(date)));
    return summaries;
  }

  @Override
  public Optional<DeviceName> values(
      RoomName room, String series, Instant from, Instant to, ValueTaker taker) {
    String value = Columns.expression(series);
    return database.read(
        "read raw readings",
        connection -> {
          Optional<SqliteSources.Source> source = SqliteSources.find(connection, room, series);
          if (source.isEmpty()) {
            return Optional.empty();
          }
          try (PreparedStatement query =
              connection.prepareStatement(
                  "select time, "
                      + value
                      + " as value from reading where device = ? and time >= ? and time < ?"
                      + " and value is not null order by time")) {
            query.setLong(1, source.get().id());
            query.setLong(2, from.toEpochMilli());
            query.setLong(3, to.toEpochMilli());
            try (ResultSet row = query.executeQuery()) {
              while (row.next()) {
                taker.take(Instant.ofEpochMilli(row.getLong(1)), row.getDouble(2));
              }
            }
          }
          return Optional.of(source.get().device());
        });
  }
}
