package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Supplier;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.LiveValue;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.DeviceRecord;
import org.layroom.dashboard.warning.AirWarnings;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.device.telemetry.Series;

/**
 * Sensors compared with a reference thermometer or hygrometer: what each is corrected by, and a new
 * correction from what the reference reads. The device adds it to what it measures from then on;
 * what is stored stays as it was measured.
 */
public final class OffsetAnswers {
  /** A thermometer that is off by more is broken or in the wrong place (common practice). */
  static final double MOST_K = 5;

  /** The same of a hygrometer, in % relative humidity (common practice). */
  static final double MOST_PCT = 10;

  private static final Duration OLDEST = Duration.ofMinutes(10);

  private final DashboardCore core;
  private final AirWarnings decisions;
  private final Supplier<Instant> clock;
  private final ZoneId zone;

  /**
   * Answers from the live room.
   *
   * @param decisions whoever tells devices what was decided
   * @param clock the room's wall clock
   * @param zone of the day of a comparison
   */
  public OffsetAnswers(
      DashboardCore core, AirWarnings decisions, Supplier<Instant> clock, ZoneId zone) {
    this.core = core;
    this.decisions = decisions;
    this.clock = clock;
    this.zone = zone;
  }

  /** A sensor as it stands: its newest reading, what the device adds, and what was decided. */
  private record Sensor(
      String series,
      LiveValue live,
      Optional<SensorOffset> inForce,
      Optional<SensorOffset> decided,
      Optional<Instant> heard) {
    double added() {
      return inForce.map(SensorOffset::amount).orElse(0.0);
    }

    /** The device has not said yet that it goes by the last decision. */
    boolean waiting() {
      return decided
          .filter(one -> one.amount() != added())
          .filter(one -> inForce.filter(now -> now.taken().isAfter(one.taken())).isEmpty())
          .isPresent();
    }

    boolean fresh() {
      return live.reading().quality().isGood()
          && live.reading().value().isPresent()
          && live.age().compareTo(OLDEST) <= 0;
    }

    String unit() {
      return series.equals(Series.HUMIDITY) ? "% humidity" : "°C";
    }

    String shownUnit() {
      return series.equals(Series.HUMIDITY) ? "%" : "°C";
    }

    String amountWords(double amount) {
      return String.format(Locale.ROOT, "%+.2f %s", amount, unit());
    }

    String words() {
      if (waiting()) {
        return "A correction by "
            + amountWords(decided.orElseThrow().amount())
            + " is saved; the device applies it when it connects.";
      }
      return inForce
          .map(
              one ->
                  "Corrected by "
                      + amountWords(one.amount())
                      + " since "
                      + one.taken()
                      + (one.who().isEmpty()
                          ? " (from the device's own settings)."
                          : " (" + one.who() + ")."))
          .orElse("No correction.");
    }
  }

  private Optional<Sensor> sensor(RoomSnapshot room, String series) {
    return room.value(series)
        .filter(live -> Series.correctable(series))
        .map(
            live -> {
              Channel channel = new Channel(room.room(), live.device());
              Optional<DeviceRecord.Said> said =
                  room.devices().stream()
                      .filter(device -> device.channel().equals(channel))
                      .findFirst()
                      .flatMap(DeviceRecord::said);
              return new Sensor(
                  series,
                  live,
                  said.flatMap(one -> of(one.status().offsets(), series)),
                  of(decisions.sensors().offsets(channel), series),
                  said.map(DeviceRecord.Said::since));
            });
  }

  private static Optional<SensorOffset> of(List<SensorOffset> offsets, String series) {
    return offsets.stream().filter(one -> one.series().equals(series)).findFirst();
  }

  /** Every sensor that can be compared, with what it reads and what is added to it. */
  public ObjectNode list(RoomName room) {
    RoomSnapshot snapshot = core.snapshot(room);
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("room", room.value());
    json.put("mostK", MOST_K).put("mostPct", MOST_PCT);
    ArrayNode sensors = json.putArray("sensors");
    for (String series : new TreeMap<>(snapshot.values()).keySet()) {
      sensor(snapshot, series)
          .ifPresent(
              one -> {
                describe(sensors.addObject(), one);
                SpeakerAnswers.describe(
                    (ObjectNode) sensors.get(sensors.size() - 1), snapshot, series);
              });
    }
    return json;
  }

  /** Lets a device speak for a series that several measure; what holds is in {@code words}. */
  public ObjectNode choose(RoomName room, String series, String device) {
    required(room, series);
    String words = new SpeakerAnswers(core).choose(room, series, device);
    return list(room).put("words", words);
  }

  private static void describe(ObjectNode json, Sensor one) {
    json.put("series", one.series()).put("device", one.live().device().value());
    json.put("unit", one.live().reading().unit());
    one.live().reading().value().ifPresent(value -> json.put("value", value));
    json.put("ageSeconds", one.live().age().toMillis() / 1000.0);
    json.put("fresh", one.fresh());
    json.put("added", one.added());
    one.inForce().ifPresent(now -> json.put("taken", now.taken().toString()).put("who", now.who()));
    json.put("waiting", one.waiting());
    json.put("words", one.words());
  }

  private Sensor required(RoomName room, String series) {
    return sensor(core.snapshot(room), series)
        .orElseThrow(
            () -> new IllegalArgumentException("Sensor: \"" + series + "\" cannot be compared"));
  }

  /** Why a sensor cannot be compared at this moment; empty when it can. */
  public Optional<String> notNow(RoomName room, String series) {
    Sensor one = required(room, series);
    if (one.waiting()) {
      return Optional.of(
          "The device has not applied the last correction yet. Wait until it has, then compare.");
    }
    boolean before =
        one.decided().isPresent()
            && one.heard().filter(since -> one.live().received().isBefore(since)).isPresent();
    return before
        ? Optional.of(
            "The newest reading is from before the last correction. Wait for the next one.")
        : Optional.empty();
  }

  /**
   * Corrects a sensor so that it reads what the reference reads.
   *
   * @param reference degC, or % relative humidity
   * @param who compared, 1 to 60 characters
   * @return the sensors as they stand, and in {@code words} what holds from now on
   */
  public ObjectNode correct(RoomName room, String series, double reference, String who) {
    Sensor one = required(room, series);
    if (!one.fresh()) {
      throw new IllegalArgumentException(
          "Sensor: there is no good reading of "
              + series
              + " in the last 10 minutes to compare with. Wait until it measures again");
    }
    double itself = one.live().reading().value().orElseThrow() - one.added();
    double amount = Math.round((reference - itself) * 100) / 100.0;
    boolean humidity = series.equals(Series.HUMIDITY);
    double most = humidity ? MOST_PCT : MOST_K;
    if (!(Math.abs(amount) <= most)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "reference: %.1f %s differs by %.1f %s from the %.1f %s that the sensor reads. More than"
                  + " %.0f is not an offset: the sensor is faulty or in another place, or the"
                  + " reference has not settled. Put both side by side, wait 15 minutes, and"
                  + " read again",
              reference,
              one.shownUnit(),
              Math.abs(amount),
              one.unit(),
              itself,
              one.shownUnit(),
              most));
    }
    return decided(room, one, amount, who);
  }

  /** Adds nothing to a sensor from now on, whatever was decided or stands in its settings file. */
  public ObjectNode remove(RoomName room, String series, String who) {
    return decided(room, required(room, series), 0, who);
  }

  private ObjectNode decided(RoomName room, Sensor one, double amount, String who) {
    LocalDate today = LocalDate.ofInstant(clock.get(), zone);
    decisions
        .sensors()
        .correct(
            new Channel(room, one.live().device()),
            new SensorOffset(one.series(), amount, today, who));
    ObjectNode json = list(room);
    String whose = one.series() + " of " + one.live().device();
    json.put(
        "words",
        amount == 0
            ? "As of " + today + ", " + whose + " is no longer corrected."
            : "As of "
                + today
                + ", "
                + whose
                + " is corrected by "
                + one.amountWords(amount)
                + ". Stored readings stay as measured.");
    return json.put("amount", amount).put("taken", today.toString());
  }
}
