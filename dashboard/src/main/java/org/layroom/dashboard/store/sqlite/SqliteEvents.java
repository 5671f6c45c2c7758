package org.layroom.dashboard.store.sqlite;

import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.store.EventLog;

/** Events and settings in two tables of their own. */
final class SqliteEvents implements EventLog {
  private final Database database;

  SqliteEvents(Database database) {
    this.database = database;
  }

  @Override
  public boolean append(String stream, String id, Instant time, String body) {
    return database.write(
        "save an event",
        connection -> {
          try (PreparedStatement insert =
              connection.prepareStatement(
                  "insert or ignore into event(stream, id, time, body) values(?, ?, ?, ?)")) {
            insert.setString(1, stream);
            insert.setString(2, id);
            insert.setLong(3, time.toEpochMilli());
            insert.setString(4, body);
            return insert.executeUpdate() > 0;
          }
        });
  }

  @Override
  public List<Event> events(String stream) {
    return query("stream = ?", stream);
  }

  @Override
  public Optional<Event> find(String stream, String id) {
    return query("stream = ?1 and id = ?2", stream, id).stream().findFirst();
  }

  @Override
  public List<Event> eventsOfStreams(String beginning) {
    return query("substr(stream, 1, length(?1)) = ?1", beginning);
  }

  private List<Event> query(String condition, String... values) {
    return database.read(
        "read events",
        connection -> {
          List<Event> events = new ArrayList<>();
          try (PreparedStatement query =
              connection.prepareStatement(
                  "select position, stream, id, time, body from event where "
                      + condition
                      + " order by position")) {
            for (int i = 0; i < values.length; i++) {
              query.setString(i + 1, values[i]);
            }
            try (ResultSet row = query.executeQuery()) {
              while (row.next()) {
                events.add(
                    new Event(
                        row.getLong(1),
                        row.getString(2),
                        row.getString(3),
                        RowValues.instant(row, 4),
                        row.getString(5)));
              }
            }
          }
          return events;
        });
  }

  @Override
  public void set(String name, String value) {
    database.write(
        "save a setting",
        connection -> {
          try (PreparedStatement upsert =
              connection.prepareStatement(
                  "insert into setting(name, value) values(?, ?)"
                      + " on conflict do update set value = excluded.value")) {
            upsert.setString(1, name);
            upsert.setString(2, value);
            return upsert.executeUpdate();
          }
        });
  }

  @Override
  public Optional<String> setting(String name) {
    return database.read(
        "read a setting",
        connection -> {
          try (PreparedStatement query =
              connection.prepareStatement("select value from setting where name = ?")) {
            query.setString(1, name);
            try (ResultSet row = query.executeQuery()) {
              return row.next() ? Optional.of(row.getString(1)) : Optional.empty();
            }
          }
        });
  }
}
