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
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.Topic;
import org.layroom.predictor.fumes.AirCall;
import org.layroom.predictor.fumes.AirWarning;
import org.layroom.predictor.fumes.VaporSensor;
import org.tinylog.Logger;

/**
 * What is said to devices (decisions, acknowledgments) and what they say of their own alarm: shown
 * upstairs where it is worse than what was worked out here. Not for several threads.
 */
final class DeviceDesk {
  private static final String SEEN = "air.seen/";

  private final DashboardCore core;
  private final WarningLog log;
  private final Map<Channel, OpenWarning> shown = new HashMap<>();
  private final ToldDecisions decisions;
  private final KeptOffsets offsets;

  DeviceDesk(DashboardCore core, WarningLog log) {
    this.core = core;
    this.log = log;
    decisions = new ToldDecisions(core);
    offsets = new KeptOffsets(core.store().events());
  }

  private static String seenName(Channel channel) {
    return SEEN + channel.room() + "/" + channel.device();
  }

  /** The last acknowledgment that a device was sent; kept, for it may be away for days. */
  private Optional<Acknowledgment> sent(Channel channel) {
    Optional<String> kept = core.store().events().setting(seenName(channel));
    try {
      return kept.isEmpty()
          ? Optional.empty()
          : Optional.of(Acknowledgment.read(kept.get().getBytes(StandardCharsets.UTF_8)));
    } catch (MalformedMessage e) {
      Logger.warn("What {} was sent cannot be read: {}", channel.baseName(), e.getMessage());
      return Optional.empty();
    }
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
    return sent(channel).filter(one -> one.id().equals(alarm.id()));
  }

  /** A device that did not hear an acknowledgment is told again. */
  void said(Channel channel, AlarmState alarm) {
    if (alarm.acknowledged().isEmpty()) {
      sent(channel, alarm)
          .ifPresent(
              before -> core.publish(channel.topic(Topic.ACKNOWLEDGE), before.write(), false));
    }
  }

  /**
   * A device that has started anew calls out under a new id what was seen here already: it is told
   * who has seen it, when it is no worse.
   */
  void seenBefore(DeviceWatch watch) {
    watch
        .watch()
        .warning()
        .ifPresent(
            standing ->
                standing
                    .acknowledged()
                    .ifPresent(
                        seen -> acknowledge(watch, standing.call(), seen.who(), seen.when())));
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
    core.store().events().set(seenName(channel), new String(seen.write(), StandardCharsets.UTF_8));
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
    Optional<AirWarning.Seen> seen =
        alarm
            .acknowledged()
            .or(() -> sent(watch.channel(), alarm))
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

  /** What was decided about a device's sensors, kept and told. */
  KeptOffsets offsets() {
    return offsets;
  }

  /** Tells a device what was decided: anew when something was, else what it was told before. */
  void decide(
      DeviceWatch watch, AirSettings decided, boolean full, Optional<AirJob> job, Decided when) {
    if (!when.anew() && decisions.again(watch.channel())) {
      return;
    }
    boolean nothing =
        !when.anew()
            && job.isEmpty()
            && watch.cleanAir().isEmpty()
            && offsets.of(watch.channel()).isEmpty()
            && decided.decided().equals(Instant.EPOCH);
    if (!nothing) {
      decisions.anew(
          watch.channel(),
          ToldDecisions.message(
              decided,
              full,
              watch.cleanAir(),
              job,
              offsets.of(watch.channel()),
              when.now(),
              when.by()),
          watch.alarm());
    }
  }

  /**
   * A moment at which devices are told.
   *
   * @param by who decides; empty where nobody is named
   * @param anew whether something was decided
   */
  record Decided(Instant now, String by, boolean anew) {}

  /** Whether a device goes by what was decided here. */
  Agreement agreement(DeviceWatch watch) {
    return decisions.agreement(watch.channel(), watch.alarm());
  }
}
