package org.layroom.dashboard.decision;

import java.nio.charset.StandardCharsets;
import java.util.Optional;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.Topic;
import org.tinylog.Logger;

/** The last acknowledgment that each device was sent; kept, for it may be away for days. */
public final class SentAcknowledgments {
  private static final String SEEN = "air.seen/";

  private final DashboardCore core;

  public SentAcknowledgments(DashboardCore core) {
    this.core = core;
  }

  private static String name(Channel channel) {
    return SEEN + channel.room() + "/" + channel.device();
  }

  private Optional<Acknowledgment> last(Channel channel) {
    Optional<String> kept = core.store().events().setting(name(channel));
    try {
      return kept.isEmpty()
          ? Optional.empty()
          : Optional.of(Acknowledgment.read(kept.get().getBytes(StandardCharsets.UTF_8)));
    } catch (MalformedMessage e) {
      Logger.warn("The message sent to {} cannot be read: {}", channel.baseName(), e.getMessage());
      return Optional.empty();
    }
  }

  /** What was sent to a device about this alarm of its own. */
  public Optional<Acknowledgment> of(Channel channel, AlarmState alarm) {
    return last(channel).filter(one -> one.id().equals(alarm.id()));
  }

  /** Sends one to a device. */
  public void send(Channel channel, Acknowledgment seen) {
    core.store().events().set(name(channel), new String(seen.write(), StandardCharsets.UTF_8));
    core.publish(channel.topic(Topic.ACKNOWLEDGE), seen.write(), false);
  }

  /** A device that did not hear an acknowledgment is told again. */
  public void sendAgain(Channel channel, AlarmState alarm) {
    if (alarm.acknowledged().isEmpty()) {
      of(channel, alarm)
          .ifPresent(
              before -> core.publish(channel.topic(Topic.ACKNOWLEDGE), before.write(), false));
    }
  }
}
