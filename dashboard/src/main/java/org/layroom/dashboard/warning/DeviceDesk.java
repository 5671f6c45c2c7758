package org.layroom.dashboard.warning;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.Topic;
import org.layroom.predictor.fumes.AirCall;
import org.layroom.predictor.fumes.AirWarning;
import org.layroom.predictor.fumes.CleanAirReading;
import org.layroom.predictor.fumes.VaporSensor;

/**
 * What is said to devices (decisions, acknowledgments) and what they say of their own alarm: shown
 * upstairs where it is worse than what was worked out here. Not for several threads.
 */
final class DeviceDesk {
  private static final String TOLD = "air.told/";

  private final DashboardCore core;
  private final WarningLog log;
  private final Map<Channel, OpenWarning> shown = new HashMap<>();
  private final Map<Channel, Acknowledgment> sent = new HashMap<>();

  DeviceDesk(DashboardCore core, WarningLog log) {
    this.core = core;
    this.log = log;
  }

  static AirCall call(AlarmState said) {
    return AirCall.valueOf(said.state().toUpperCase(Locale.ROOT));
  }

  /** Names a device's own alarm among the warnings of its room. */
  static String id(DeviceWatch watch, AlarmState said) {
    return watch.channel().device() + "-itself-" + said.id();
  }

  /** The device's own warning that is shown beside those worked out here. */
  Optional<OpenWarning> shown(Channel channel) {
    return Optional.ofNullable(shown.get(channel));
  }

  /** What was sent to a device about this alarm of its own. */
  Optional<Acknowledgment> sent(Channel channel, AlarmState alarm) {
    return Optional.ofNullable(sent.get(channel)).filter(one -> one.id().equals(alarm.id()));
  }

  /** A device that did not hear an acknowledgment is told again. */
  void said(Channel channel, AlarmState alarm) {
    Acknowledgment before = sent.get(channel);
    if (before != null && before.id().equals(alarm.id()) && alarm.acknowledged().isEmpty()) {
      core.publish(channel.topic(Topic.ACKNOWLEDGE), before.write(), false);
    }
  }

  /** Tells a device that its alarm was seen, when it is no worse than what was seen here. */
  void acknowledge(DeviceWatch watch, AirCall call, String who, Instant when) {
    Optional<AlarmState> alarm =
        watch
            .alarm()
            .filter(one -> !one.id().isEmpty() && one.acknowledged().isEmpty())
            .filter(one -> rank(call(one)) <= rank(call));
    if (alarm.isEmpty()) {
      return;
    }
    Channel channel = watch.channel();
    Acknowledgment seen = new Acknowledgment(alarm.get().id(), who, when);
    sent.put(channel, seen);
    core.publish(channel.topic(Topic.ACKNOWLEDGE), seen.write(), false);
  }

  /** Shows, or no longer shows, what the device itself says. */
  void settle(DeviceWatch watch, boolean houseSide, boolean online, Instant now) {
    Optional<OpenWarning> is = own(watch, houseSide, online, now);
    OpenWarning was = shown.get(watch.channel());
    if (was != null && is.filter(one -> one.id().equals(was.id())).isEmpty()) {
      log.ended(watch.channel().room(), was.id(), now);
    }
    if (is.isPresent()) {
      if (was == null || !was.id().equals(is.get().id())) {
        log.raised(watch.channel().room(), is.get());
      }
      shown.put(watch.channel(), is.get());
    } else {
      shown.remove(watch.channel());
    }
  }

  /** A device that has gone shows its last alarm until somebody has seen it. */
  private Optional<OpenWarning> own(
      DeviceWatch watch, boolean houseSide, boolean online, Instant now) {
    Optional<AlarmState> worse =
        watch
            .alarm()
            .filter(one -> call(one) == AirCall.LEAVE || call(one) == AirCall.VENTILATE)
            .filter(one -> rank(call(one)) > rank(watch.watch().call()));
    if (worse.isEmpty()) {
      return Optional.empty();
    }
    AlarmState alarm = worse.get();
    Acknowledgment here = sent.get(watch.channel());
    Optional<AirWarning.Seen> seen =
        alarm
            .acknowledged()
            .or(() -> Optional.ofNullable(here).filter(one -> one.id().equals(alarm.id())))
            .map(one -> new AirWarning.Seen(one.who(), one.when()));
    if (seen.isPresent() && !online) {
      return Optional.empty();
    }
    List<String> why = new ArrayList<>(entitled(watch, alarm.why()));
    why.add(online ? "The device itself says so." : "The device said so before it went silent.");
    return Optional.of(
        new OpenWarning(
            id(watch, alarm),
            watch.channel().device(),
            OpenWarning.Source.DEVICE,
            houseSide,
            call(alarm),
            alarm.since().orElse(now),
            why,
            alarm.whatToDo(),
            alarm.endsWhen(),
            seen));
  }

  /** A device that tells ppm of a metal-oxide chip is not repeated. */
  private static List<String> entitled(DeviceWatch watch, List<String> why) {
    return watch.watch().settings().sensor() instanceof VaporSensor.Chip
        ? why.stream().filter(words -> !words.contains("ppm")).toList()
        : why;
  }

  /** Unknown says nothing, so here it is outranked by ventilate. */
  private static int rank(AirCall call) {
    return switch (call) {
      case OK -> 0;
      case UNKNOWN -> 1;
      case VENTILATE -> 2;
      case LEAVE -> 3;
    };
  }

  /** Tells a device what was decided, retained; without anything new the same as before. */
  void decide(
      Channel channel,
      AirSettings decided,
      boolean full,
      Optional<CleanAirReading> cleanAir,
      Optional<AirJob> job,
      Instant now,
      boolean anew) {
    String name = TOLD + channel.room() + "/" + channel.device();
    Optional<String> before = core.store().events().setting(name);
    String body = before.orElse("");
    if (anew || before.isEmpty()) {
      boolean nothing =
          !anew && job.isEmpty() && cleanAir.isEmpty() && decided.decided().equals(Instant.EPOCH);
      if (nothing) {
        return;
      }
      body = new String(message(decided, full, cleanAir, job, now).write(), StandardCharsets.UTF_8);
      core.store().events().set(name, body);
    }
    core.publish(channel.topic(Topic.SETTINGS), body.getBytes(StandardCharsets.UTF_8), true);
  }

  private static DeviceSettings message(
      AirSettings decided,
      boolean full,
      Optional<CleanAirReading> cleanAir,
      Optional<AirJob> job,
      Instant now) {
    return new DeviceSettings(
        now,
        decided.mode(),
        decided.limit().eightHourPpm(),
        decided.limit().shortTermPpm(),
        decided.styreneFactor(),
        full,
        cleanAir.map(
            one ->
                new DeviceSettings.CleanAir(
                    one.ticks(), one.taken(), one.temperatureC(), one.humidityPct())),
        job.map(
            one ->
                new DeviceSettings.Job(
                    one.started(), one.until(), one.who(), one.fanOn(), one.respiratorOn())));
  }
}
