package org.layroom.dashboard.warning;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.layroom.dashboard.store.EventLog;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirWarning;

/**
 * The warnings of every room as they were raised, seen and ended, append-only. Saying the same a
 * second time keeps one.
 */
final class WarningLog {
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final EventLog events;

  /** When the newest leave of a room was raised, once it was asked for; empty where none was. */
  private final Map<RoomName, Optional<Instant>> newestLeaves = new ConcurrentHashMap<>();

  WarningLog(EventLog events) {
    this.events = events;
  }

  private static String stream(RoomName room) {
    return "warnings/" + room;
  }

  /** A warning was raised; false when it is in the log already. */
  boolean raised(RoomName room, OpenWarning warning) {
    ObjectNode body = JsonNodeFactory.instance.objectNode();
    body.put("event", "raised").put("warning", warning.id());
    body.put("device", warning.device().value());
    body.put("source", warning.source().name().toLowerCase(Locale.ROOT));
    body.put("state", warning.call().name().toLowerCase(Locale.ROOT));
    body.put("since", warning.since().toString());
    var why = body.putArray("why");
    warning.why().forEach(why::add);
    body.put("whatToDo", warning.whatToDo()).put("endsWhen", warning.endsWhen());
    boolean fresh =
        events.append(stream(room), warning.id() + "/raised", warning.since(), body.toString());
    if (fresh && warning.call() == AirCall.LEAVE) {
      newestLeaves.computeIfPresent(
          room,
          (known, before) ->
              before.filter(warning.since()::isBefore).or(() -> Optional.of(warning.since())));
    }
    return fresh;
  }

  /** A warning has ended. */
  void ended(RoomName room, String id, Instant when) {
    ObjectNode body = JsonNodeFactory.instance.objectNode();
    body.put("event", "ended").put("warning", id);
    events.append(stream(room), id + "/ended", when, body.toString());
  }

  /**
   * Somebody has seen a warning.
   *
   * @param saidAs the id that whoever says so has made
   * @return false when this was said before
   */
  boolean seen(RoomName room, String id, String saidAs, AirWarning.Seen seen) {
    ObjectNode body = JsonNodeFactory.instance.objectNode();
    body.put("event", "acknowledged").put("warning", id);
    body.put("who", seen.who()).put("when", seen.when().toString());
    return events.append(stream(room), saidAs, seen.when(), body.toString());
  }

  /** Solvent is being wiped. */
  void wiping(RoomName room, String saidAs, String who, Instant when) {
    ObjectNode body = JsonNodeFactory.instance.objectNode();
    body.put("event", "wiping").put("who", who);
    events.append(stream(room), saidAs, when, body.toString());
  }

  /** The newest entries first, at most so many. */
  List<JsonNode> newest(RoomName room, int most) {
    List<EventLog.Event> all = events.events(stream(room));
    List<JsonNode> newest = new ArrayList<>();
    for (int i = all.size() - 1; i >= 0 && newest.size() < most; i--) {
      newest.add(read(all.get(i)));
    }
    return newest;
  }

  /** When the newest leave of a room was raised; the log is read once for it. */
  Optional<Instant> newestLeave(RoomName room) {
    return newestLeaves.computeIfAbsent(room, this::readNewestLeave);
  }

  private Optional<Instant> readNewestLeave(RoomName room) {
    return events.events(stream(room)).stream()
        .map(WarningLog::read)
        .filter(one -> one.path("event").asText().equals("raised"))
        .filter(one -> one.path("state").asText().equals("leave"))
        .map(one -> Instant.parse(one.path("since").asText()))
        .max(Comparator.naturalOrder());
  }

  /** What was said of a warning under an id; empty when nothing was. */
  Optional<JsonNode> said(RoomName room, String saidAs) {
    return events.events(stream(room)).stream()
        .filter(event -> event.id().equals(saidAs))
        .findFirst()
        .map(WarningLog::read);
  }

  private static JsonNode read(EventLog.Event event) {
    try {
      JsonNode body = JSON.readTree(event.body());
      return body instanceof ObjectNode node
          ? node.put("time", event.time().toString()).put("id", event.id())
          : body;
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("event " + event.id() + " of the store is damaged", e);
    }
  }
}
