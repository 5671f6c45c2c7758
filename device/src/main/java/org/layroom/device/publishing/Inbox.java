package org.layroom.device.publishing;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.function.Consumer;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.RoomVerdict;
import org.layroom.device.telemetry.StoredMark;
import org.layroom.device.telemetry.Topic;
import org.tinylog.Logger;

/**
 * What comes from the broker: each message is read and handed to whoever listens for it. One that
 * cannot be read is told to the log and left. For one thread.
 */
final class Inbox {
  private final Channel channel;
  private final Delivery delivery;
  private Consumer<Acknowledgment> acknowledgments = seen -> {};
  private Consumer<DeviceSettings> settings = decided -> {};
  private Consumer<RoomVerdict> verdicts = verdict -> {};

  /** What concerns the delivery of samples. */
  interface Delivery {
    void stored(StoredMark mark);

    /**
     * The dashboard has come or gone.
     *
     * @param kept whether the broker had kept this word, so that it may be old
     */
    void dashboard(boolean there, boolean kept);
  }

  Inbox(Channel channel, Delivery delivery) {
    this.channel = channel;
    this.delivery = delivery;
  }

  void onAcknowledged(Consumer<Acknowledgment> listener) {
    acknowledgments = listener;
  }

  void onSettings(Consumer<DeviceSettings> listener) {
    settings = listener;
  }

  void onVerdict(Consumer<RoomVerdict> listener) {
    verdicts = listener;
  }

  /** What to subscribe to. */
  List<String> topics() {
    return List.of(
        channel.topic(Topic.STORED),
        channel.topic(Topic.ACKNOWLEDGE),
        channel.topic(Topic.SETTINGS),
        Topic.DASHBOARD,
        Topic.verdict(channel.room()));
  }

  /**
   * A message that has arrived.
   *
   * @param kept whether the broker had kept it, so that it may be old
   */
  void take(String topic, byte[] body, boolean kept) {
    if (topic.equals(channel.topic(Topic.STORED))) {
      read("A stored mark", () -> delivery.stored(StoredMark.read(body)));
    } else if (topic.equals(channel.topic(Topic.ACKNOWLEDGE))) {
      if (!kept) {
        read("An acknowledgment", () -> acknowledgments.accept(Acknowledgment.read(body)));
      }
    } else if (topic.equals(channel.topic(Topic.SETTINGS))) {
      read("Settings from the dashboard", () -> settings.accept(DeviceSettings.read(body)));
    } else if (topic.equals(Topic.DASHBOARD)) {
      delivery.dashboard(new String(body, StandardCharsets.UTF_8).contains("online"), kept);
    } else if (topic.equals(Topic.verdict(channel.room()))) {
      read("A verdict from the dashboard", () -> verdict(RoomVerdict.read(body), kept));
    }
  }

  private void verdict(RoomVerdict verdict, boolean kept) {
    verdicts.accept(kept ? verdict.withoutVerdict() : verdict);
  }

  private interface Reading {
    void run() throws MalformedMessage;
  }

  private static void read(String what, Reading reading) {
    try {
      reading.run();
    } catch (MalformedMessage e) {
      Logger.warn("{} cannot be read: {}", what, e.getMessage());
    }
  }
}
