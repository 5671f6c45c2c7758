package org.layroom.dashboard.calendar;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.layroom.dashboard.answer.ClockTimes;
import org.layroom.dashboard.answer.job.PlannedWindow;
import org.layroom.dashboard.store.EventLog;
import org.layroom.dashboard.warning.RoomAir;
import org.layroom.device.telemetry.RoomName;
import org.tinylog.Logger;

/**
 * The calendars of all rooms: windows of parts that are on their way, a proposal when to start
 * where nothing is, and clean-air readings and bump tests that are asked for. What a calendar has
 * been told is kept, so that an event keeps its id, its sequence grows when it moves by over five
 * minutes, and one that is called off is shown so for a week. Safe for any number of threads.
 */
public final class RoomCalendar {
  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final Duration MOVED = Duration.ofMinutes(5);
  private static final Duration SHOWN_AFTER = Duration.ofDays(7);
  private static final Duration HALF_AN_HOUR = Duration.ofMinutes(30);
  private static final String SETTING = "calendar/";

  /**
   * When it is good to begin a part.
   *
   * @param words one sentence
   */
  public record Proposal(Instant start, String words) {}

  /** Where what is planned comes from. */
  public record Sources(
      Function<RoomName, List<PlannedWindow>> windows,
      Function<RoomName, Optional<Proposal>> proposal,
      Function<RoomName, RoomAir> air) {}

  private final EventLog log;
  private final Sources sources;
  private final Supplier<Instant> now;
  private final ZoneId zone;

  /** The calendars of a dashboard. */
  public RoomCalendar(EventLog log, Sources sources, Supplier<Instant> now, ZoneId zone) {
    this.log = log;
    this.sources = sources;
    this.now = now;
    this.zone = zone;
  }

  /** The whole calendar of a room, to subscribe to. */
  public synchronized String feed(RoomName room) {
    return CalendarText.of("Layroom " + room, List.copyOf(brought(room).values()));
  }

  /** One window of a part, to put into a calendar by itself; empty when there is none. */
  public synchronized Optional<String> one(RoomName room, String window) {
    return Optional.ofNullable(brought(room).get(uid(room, window)))
        .filter(entry -> !entry.canceled())
        .map(entry -> CalendarText.of("Layroom " + room, List.of(entry)));
  }

  private static String uid(RoomName room, String what) {
    return what + "." + room + "@layroom";
  }

  /** Brings what was told up to now. */
  private Map<String, CalendarEntry> brought(RoomName room) {
    Instant at = now.get().truncatedTo(ChronoUnit.SECONDS);
    Map<String, CalendarEntry> before = kept(room);
    Map<String, CalendarEntry> wanted = wanted(room, at, before);
    Map<String, CalendarEntry> after = new LinkedHashMap<>();
    before.forEach(
        (uid, told) -> {
          if (!wanted.containsKey(uid)) {
            gone(told, at).ifPresent(entry -> after.put(uid, entry));
          }
        });
    wanted.forEach((uid, entry) -> after.put(uid, told(entry, before.get(uid))));
    if (!after.equals(before)) {
      keep(room, after);
    }
    return after;
  }

  private static CalendarEntry told(CalendarEntry entry, @Nullable CalendarEntry before) {
    if (before == null) {
      return entry;
    }
    boolean moved =
        before.canceled()
            || !before.summary().equals(entry.summary())
            || apart(before.from(), entry.from())
            || apart(before.until(), entry.until());
    return moved
        ? new CalendarEntry(
            entry.uid(),
            before.sequence() + 1,
            entry.changed(),
            entry.from(),
            entry.until(),
            entry.summary(),
            entry.description(),
            false)
        : before;
  }

  private static boolean apart(Instant one, Instant other) {
    return Duration.between(one, other).abs().compareTo(MOVED) > 0;
  }

  /** What is over stays as it was, what was to come is called off; both are shown for a week. */
  private static Optional<CalendarEntry> gone(CalendarEntry told, Instant at) {
    Instant last = told.canceled() ? told.changed() : told.until();
    if (last.plus(SHOWN_AFTER).isBefore(at)) {
      return Optional.empty();
    }
    return Optional.of(
        told.canceled() || !told.until().isAfter(at)
            ? told
            : new CalendarEntry(
                told.uid(),
                told.sequence() + 1,
                at,
                told.from(),
                told.until(),
                told.summary(),
                told.description(),
                true));
  }

  private Map<String, CalendarEntry> wanted(
      RoomName room, Instant at, Map<String, CalendarEntry> before) {
    Map<String, CalendarEntry> wanted = new LinkedHashMap<>();
    List<PlannedWindow> windows = sources.windows().apply(room);
    for (PlannedWindow window : windows) {
      String likely =
          window
              .likely()
              .map(time -> "Likely from " + ClockTimes.about(time, at, zone) + ". ")
              .orElse("");
      put(
          wanted,
          entry(
              uid(room, window.id()),
              at,
              window.from(),
              window.until(),
              window.part() + ": " + window.title(),
              likely + window.words()));
    }
    if (windows.isEmpty()) {
      sources
          .proposal()
          .apply(room)
          .ifPresent(
              one ->
                  put(
                      wanted,
                      entry(
                          uid(room, "start"),
                          at,
                          one.start(),
                          one.start().plus(HALF_AN_HOUR),
                          "Good time to start in " + room,
                          one.words())));
    }
    for (RoomAir.DeviceAir device : sources.air().apply(room).devices()) {
      device
          .cleanAirAsked()
          .ifPresent(
              why ->
                  put(
                      wanted,
                      asked(room, "clean-air", device, "Clean-air reading", why, at, before)));
      device
          .bumpTestAsked()
          .ifPresent(
              why -> put(wanted, asked(room, "bump-test", device, "Bump test", why, at, before)));
    }
    return wanted;
  }

  private static void put(Map<String, CalendarEntry> wanted, CalendarEntry entry) {
    wanted.put(entry.uid(), entry);
  }

  private static CalendarEntry entry(
      String uid, Instant at, Instant from, Instant until, String summary, String description) {
    return new CalendarEntry(
        uid,
        0,
        at,
        from.truncatedTo(ChronoUnit.MINUTES),
        until.truncatedTo(ChronoUnit.MINUTES),
        summary,
        description,
        false);
  }

  /** Stays where it was first asked for. */
  private static CalendarEntry asked(
      RoomName room,
      String what,
      RoomAir.DeviceAir device,
      String title,
      String why,
      Instant at,
      Map<String, CalendarEntry> before) {
    String uid = uid(room, what + "-" + device.device());
    CalendarEntry told = before.get(uid);
    Instant from = told == null || told.canceled() ? at : told.from();
    return entry(uid, at, from, from.plus(HALF_AN_HOUR), title + ": " + device.device(), why);
  }

  private Map<String, CalendarEntry> kept(RoomName room) {
    Map<String, CalendarEntry> kept = new LinkedHashMap<>();
    try {
      for (JsonNode one : JSON.readTree(log.setting(SETTING + room).orElse("[]"))) {
        CalendarEntry entry =
            new CalendarEntry(
                one.path("uid").asText(),
                one.path("sequence").asInt(),
                Instant.parse(one.path("changed").asText()),
                Instant.parse(one.path("from").asText()),
                Instant.parse(one.path("until").asText()),
                one.path("summary").asText(),
                one.path("description").asText(),
                one.path("canceled").asBoolean());
        kept.put(entry.uid(), entry);
      }
    } catch (JsonProcessingException | DateTimeException e) {
      Logger.warn("What the calendar of {} was told cannot be read: {}", room, e.getMessage());
      kept.clear();
    }
    return kept;
  }

  private void keep(RoomName room, Map<String, CalendarEntry> entries) {
    ArrayNode all = JsonNodeFactory.instance.arrayNode();
    for (CalendarEntry entry : entries.values()) {
      all.addObject()
          .put("uid", entry.uid())
          .put("sequence", entry.sequence())
          .put("changed", entry.changed().toString())
          .put("from", entry.from().toString())
          .put("until", entry.until().toString())
          .put("summary", entry.summary())
          .put("description", entry.description())
          .put("canceled", entry.canceled());
    }
    log.set(SETTING + room, all.toString());
  }
}
