package org.layroom.dashboard.decision;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.Topic;
import org.tinylog.Logger;

/**
 * What each device was told of what was decided, kept over restarts, and whether it goes by that.
 * The newest decision wins, and "newer" is never left to the clock alone: a decision is dated after
 * the last that was told and after the one that the device says it goes by, so that a clock that
 * was wrong, or a store that came back from a backup, cannot make a device deaf to what is decided
 * now.
 */
public final class SentDecisions {
  private static final String TOLD = "air.told/";

  private final DashboardCore core;
  private final Map<Channel, Optional<String>> bodies = new HashMap<>();

  public SentDecisions(DashboardCore core) {
    this.core = core;
  }

  private static String name(Channel channel) {
    return TOLD + channel.room() + "/" + channel.device();
  }

  private Optional<String> kept(Channel channel) {
    return bodies.computeIfAbsent(channel, one -> core.store().events().setting(name(one)));
  }

  /** What a device was told last; empty when nothing, or when that cannot be read. */
  Optional<DeviceSettings> told(Channel channel) {
    Optional<String> body = kept(channel);
    try {
      return body.isEmpty()
          ? Optional.empty()
          : Optional.of(DeviceSettings.read(body.get().getBytes(StandardCharsets.UTF_8)));
    } catch (MalformedMessage e) {
      Logger.warn("The settings sent to {} cannot be read: {}", channel.baseName(), e.getMessage());
      return Optional.empty();
    }
  }

  /** Tells a device again what it was told last; false when it was never told anything. */
  boolean again(Channel channel) {
    Optional<String> body = kept(channel);
    body.ifPresent(text -> publish(channel, text));
    return body.isPresent();
  }

  /** Tells a device what was decided now, retained. */
  void anew(Channel channel, DeviceSettings decided, Optional<AlarmState> deviceSays) {
    Instant floor =
        later(
            told(channel).map(DeviceSettings::decided).orElse(Instant.EPOCH),
            deviceSays.flatMap(said -> said.uses().settingsDecided()).orElse(Instant.EPOCH));
    DeviceSettings dated = decided.at(later(decided.decided(), floor.plusMillis(1)));
    String body = new String(dated.write(), StandardCharsets.UTF_8);
    core.store().events().set(name(channel), body);
    bodies.put(channel, Optional.of(body));
    publish(channel, body);
  }

  private static Instant later(Instant one, Instant other) {
    return one.isAfter(other) ? one : other;
  }

  private void publish(Channel channel, String body) {
    core.publish(channel.topic(Topic.SETTINGS), body.getBytes(StandardCharsets.UTF_8), true);
  }

  /** Whether a device goes by what it was told last. */
  public SettingsAgreement agreement(Channel channel, Optional<AlarmState> deviceSays) {
    return SettingsAgreement.of(told(channel), deviceSays.map(AlarmState::uses));
  }
}
