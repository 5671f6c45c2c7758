package org.layroom.dashboard.answer;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.LiveValue;
import org.layroom.dashboard.room.RoomListener;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.warning.RoomAir;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.PlainTopic;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.vapor.AirCall;

/**
 * Says the newest plain values of each room on MQTT, retained ({@link PlainTopic}): what changed,
 * within five seconds, and everything anew at each connection to the broker. A value that is not
 * good, or over five minutes old, is emptied. On the way out, an outside broker is left without
 * values, since nobody would take them back.
 */
public final class PlainValues implements RoomListener, AutoCloseable {
  private static final Duration LOOK = Duration.ofSeconds(5);
  private static final Duration EVERY = Duration.ofMinutes(1);
  private static final Duration OLDEST = Duration.ofMinutes(5);
  private static final String MOLD = Series.MOLD_TEMPERATURE;

  private final DashboardCore core;
  private final Function<RoomName, RoomAir> air;
  private final Map<RoomName, Map<String, String>> said = new HashMap<>();
  private final Set<RoomName> changed = ConcurrentHashMap.newKeySet();
  private final List<Pace.Scheduled> tasks;
  private long connects;

  private PlainValues(DashboardCore core, Function<RoomName, RoomAir> air, Pace pace) {
    this.core = core;
    this.air = air;
    this.tasks = List.of(pace.every(LOOK, this::look), pace.every(EVERY, this::allChanged));
  }

  /** Begins to say them. */
  public static PlainValues start(DashboardCore core, Function<RoomName, RoomAir> air, Pace pace) {
    PlainValues values = new PlainValues(core, air, pace);
    core.addListener(values);
    return values;
  }

  @Override
  public void changed(RoomName room) {
    changed.add(room);
  }

  /** Values grow old without a word. */
  private void allChanged() {
    changed.addAll(core.rooms());
  }

  private synchronized void look() {
    if (core.link().connects() != connects) {
      connects = core.link().connects();
      said.clear();
      allChanged();
    }
    for (RoomName room : List.copyOf(changed)) {
      changed.remove(room);
      say(room, values(core.snapshot(room), air.apply(room)));
    }
  }

  private void say(RoomName room, Map<String, String> values) {
    Map<String, String> before = said.computeIfAbsent(room, name -> new HashMap<>());
    before.keySet().forEach(topic -> values.putIfAbsent(topic, ""));
    values.forEach(
        (topic, value) -> {
          if (!value.equals(before.put(topic, value))) {
            core.publish(topic, value.getBytes(StandardCharsets.UTF_8), true);
          }
        });
  }

  /** The values of a room by topic; empty where unknown. */
  static Map<String, String> values(RoomSnapshot room, RoomAir air) {
    RoomName name = room.room();
    Map<String, String> values = new LinkedHashMap<>();
    values.put(PlainTopic.TEMPERATURE.in(name), number(room, Series.TEMPERATURE, 1));
    values.put(PlainTopic.HUMIDITY.in(name), number(room, Series.HUMIDITY, 0));
    values.put(PlainTopic.MOLD_TEMPERATURE.in(name), number(room, MOLD, 1));
    for (String series : room.values().keySet()) {
      if (series.startsWith(MOLD + "/")) {
        values.put(
            PlainTopic.MOLD_TEMPERATURE.in(name) + series.substring(MOLD.length()),
            number(room, series, 1));
      }
    }
    values.put(PlainTopic.VOC_LEVEL.in(name), number(room, Series.VOC_LEVEL, 1));
    values.put(
        PlainTopic.WARNING.in(name),
        air.warnings().isEmpty() || air.call() == AirCall.OK
            ? ""
            : air.call().name().toLowerCase(Locale.ROOT));
    values.put(
        PlainTopic.UPDATED.in(name),
        room.values().values().stream()
            .map(LiveValue::time)
            .max(Instant::compareTo)
            .map(time -> time.truncatedTo(ChronoUnit.MINUTES).toString())
            .orElse(""));
    return values;
  }

  private static String number(RoomSnapshot room, String series, int decimals) {
    Optional<LiveValue> fresh = room.fresh(series, OLDEST);
    return fresh.isEmpty()
        ? ""
        : String.format(
            Locale.ROOT, "%." + decimals + "f", fresh.get().reading().value().orElseThrow());
  }

  @Override
  public void close() {
    tasks.forEach(Pace.Scheduled::cancel);
    core.removeListener(this);
    if (core.broker().isEmpty()) {
      takeBack();
    }
  }

  private synchronized void takeBack() {
    said.values().stream()
        .flatMap(values -> values.entrySet().stream())
        .filter(value -> !value.getValue().isEmpty())
        .forEach(value -> core.publish(value.getKey(), new byte[0], true));
    said.clear();
  }
}
