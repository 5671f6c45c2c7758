package org.layroom.device.telemetry;

import java.util.Locale;
import java.util.Optional;

/** The kinds of message below {@code layroom/<room>/<device>/}. All travel with QoS 1. */
public enum Topic {
  /** Device to dashboard, not retained: SenML. */
  READINGS(false),
  /** Device to dashboard, retained, and the device's will. */
  STATUS(true),
  /** Dashboard to device, retained: up to which sequence number everything is kept. */
  STORED(true),
  /** Dashboard to device, retained. */
  SETTINGS(true),
  /** Device to dashboard, retained. */
  ALARM(true),
  /** Dashboard to device, not retained. */
  ACKNOWLEDGE(false);

  /** Larger messages are refused at either end, in bytes. */
  public static final int LARGEST_MESSAGE_BYTES = 64 * 1024;

  /** Quality of service of every message of the contract. */
  public static final int QOS = 1;

  /** Whether the dashboard is there: retained, with a will. */
  public static final String DASHBOARD = "layroom/dashboard";

  private final boolean retained;

  Topic(boolean retained) {
    this.retained = retained;
  }

  public boolean retained() {
    return retained;
  }

  public String lastLevel() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** The subscription that hears this kind from every device in every room. */
  public String everyDevice() {
    return "layroom/+/+/" + lastLevel();
  }

  static Optional<Topic> ofLastLevel(String level) {
    for (Topic topic : values()) {
      if (topic.lastLevel().equals(level)) {
        return Optional.of(topic);
      }
    }
    return Optional.empty();
  }

  /** The retained mix check of a room. */
  public static String verdict(RoomName room) {
    return "layroom/" + room + "/verdict";
  }

  /** What should be heard of a room's jobs now, retained: windows that open and close. */
  public static String jobs(RoomName room) {
    return "layroom/" + room + "/jobs";
  }

  /** The retained open warnings of a room. */
  public static String warnings(RoomName room) {
    return "layroom/" + room + "/warnings";
  }
}
