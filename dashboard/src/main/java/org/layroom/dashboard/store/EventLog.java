package org.layroom.dashboard.store;

import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Append-only events in named streams (a job, the warnings of a room), and small settings. An event
 * has an id made by whoever sends it: sending it twice keeps one.
 */
public final class EventLog {
  /** Settings whose names begin so are this machine's alone: no backup takes them. */
  public static final String PRIVATE = "private/";

  /** The setting that names this dashboard to the broker; no two machines may share it. */
  public static final String CLIENT_ID = "client-id";

  private final Database database;

  EventLog(Database database) {
    this.database = database;
  }

  /**
   * One event as kept.
   *
   * @param position grows with every event of the whole log
   * @param body JSON or any other text
   */
  public record Event(long position, String stream, String id, Instant time, String body) {}

  /** Appends an event. False when this stream has an event of this id already. */
  public boolean append(String stream, String id, Instant time, String body) {
    return database.write(
        "keep an event",
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

  /** All events of a stream, in the order they were appended. */
  public List<Event> events(String stream) {
    return query("stream = ?", stream);
  }

  /** One event of a stream by its id. */
  public Optional<Event> find(String stream, String id) {
    return query("stream = ?1 and id = ?2", stream, id).stream().findFirst();
  }

  /** All events of every stream whose name begins so, in the order they were appended. */
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
                        Rows.instant(row, 4),
                        row.getString(5)));
              }
            }
          }
          return events;
        });
  }

  /** Keeps a setting, in place of the one before. */
  public void set(String name, String value) {
    database.write(
        "keep a setting",
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
