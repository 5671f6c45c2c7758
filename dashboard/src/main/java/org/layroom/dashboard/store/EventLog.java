package org.layroom.dashboard.store;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * Append-only events in named streams (a job, the warnings of a room), and small settings. An event
 * has an id made by whoever sends it: sending it twice keeps one.
 */
public interface EventLog {
  /** Settings whose names begin so are this machine's alone: no backup takes them. */
  String PRIVATE = "private/";

  /** The setting that names this dashboard to the broker; no two machines may share it. */
  String CLIENT_ID = "client-id";

  /**
   * One event as kept.
   *
   * @param position grows with every event of the whole log
   * @param body JSON or any other text
   */
  record Event(long position, String stream, String id, Instant time, String body) {}

  /** Appends an event. False when this stream has an event of this id already. */
  boolean append(String stream, String id, Instant time, String body);

  /** All events of a stream, in the order they were appended. */
  List<Event> events(String stream);

  /** One event of a stream by its id. */
  Optional<Event> find(String stream, String id);

  /** All events of every stream whose name begins so, in the order they were appended. */
  List<Event> eventsOfStreams(String beginning);

  /** Keeps a setting, in place of the one before. */
  void set(String name, String value);

  /** What is kept under a name. */
  Optional<String> setting(String name);
}
