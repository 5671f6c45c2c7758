package org.layroom.dashboard.warning;

import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.decision.SentAcknowledgments;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.VaporSensor;

/**
 * What devices say of their own alarms, shown beside the warnings worked out here where it is
 * worse. Not for several threads.
 */
final class DeviceWarnings {
  private final DashboardCore core;
  private final WarningLog log;
  private final SentAcknowledgments sent;
  private final Map<Channel, OpenWarning> shown = new HashMap<>();

  DeviceWarnings(DashboardCore core, WarningLog log, SentAcknowledgments sent) {
    this.core = core;
    this.log = log;
    this.sent = sent;
  }

  static AirCall call(AlarmState said) {
    return AirCall.valueOf(said.state().toUpperCase(Locale.ROOT));
  }

  /** Whether a device's own alarm is worse than a call. */
  static boolean worse(AlarmState said, AirCall than) {
    return call(said).compareTo(than) > 0;
  }

  /** Names a device's own alarm among the warnings of its room. */
  static String id(Channel channel, AlarmState said) {
    return channel.device() + "-itself-" + said.id();
  }

  /** The device's own warning that is shown beside those worked out here. */
  Optional<OpenWarning> shown(Channel channel) {
    return Optional.ofNullable(shown.get(channel));
  }

  /** Shows, or no longer shows, what the device itself says. */
  void settle(DeviceWatch watch, Instant now) {
    Optional<OpenWarning> is = own(watch, online(watch.channel()), now);
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
  private Optional<OpenWarning> own(DeviceWatch watch, boolean online, Instant now) {
    Optional<AlarmState> worse =
        watch
            .alarm()
            .filter(one -> call(one) == AirCall.LEAVE || call(one) == AirCall.VENTILATE)
            .filter(one -> worse(one, watch.watch().call()));
    if (worse.isEmpty()) {
      return Optional.empty();
    }
    AlarmState alarm = worse.get();
    Optional<AirWarning.Seen> seen =
        alarm
            .acknowledged()
            .or(() -> sent.of(watch.channel(), alarm))
            .map(one -> new AirWarning.Seen(one.who(), one.when()));
    if (seen.isPresent() && !online) {
      return Optional.empty();
    }
    List<String> why = new ArrayList<>(entitled(watch, alarm.why()));
    why.add(
        online
            ? "Raised by the device itself."
            : "Raised by the device before it went" + " offline.");
    return Optional.of(
        new OpenWarning(
            id(watch.channel(), alarm),
            watch.channel().device(),
            OpenWarning.Source.DEVICE,
            watch.full(),
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

  private boolean online(Channel channel) {
    return core.snapshot(channel.room()).devices().stream()
        .filter(device -> device.channel().equals(channel))
        .anyMatch(device -> device.said().filter(said -> said.status().online()).isPresent());
  }
}
