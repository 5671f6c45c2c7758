package org.layroom.device.telemetry;

import java.util.Optional;

/** One device in one room: who speaks. The topic says so, never the payload. */
public record Channel(RoomName room, DeviceName device) {

  public static Channel of(String room, String device) {
    return new Channel(RoomName.of(room), DeviceName.of(device));
  }

  /** The SenML base name of this device's readings, {@code layroom/<room>/<device>/}. */
  public String baseName() {
    return "layroom/" + room + "/" + device + "/";
  }

  /** The full topic of one kind of message of this device. */
  public String topic(Topic topic) {
    return baseName() + topic.lastLevel();
  }

  /** The name of this device at a broker, {@code <room>.<device>}: no two devices share one. */
  public String user() {
    return room + "." + device;
  }

  /** The id of this device's MQTT client. */
  public String clientId() {
    return "layroom-" + user();
  }

  /** The device of a name at a broker; empty when it is none. */
  public static Optional<Channel> ofUser(String user) {
    String[] parts = user.split("\\.", -1);
    return parts.length == 2 && NameRules.valid(parts[0]) && NameRules.valid(parts[1])
        ? Optional.of(of(parts[0], parts[1]))
        : Optional.empty();
  }

  /** The device and kind of a topic, or empty when it is not one of this contract's. */
  public static Optional<Addressed> parse(String topic) {
    String[] levels = topic.split("/", -1);
    if (levels.length != 4
        || !levels[0].equals("layroom")
        || !NameRules.valid(levels[1])
        || !NameRules.valid(levels[2])) {
      return Optional.empty();
    }
    return Topic.ofLastLevel(levels[3])
        .map(kind -> new Addressed(Channel.of(levels[1], levels[2]), kind));
  }

  /** What a topic says: who speaks, and of what. */
  public record Addressed(Channel channel, Topic kind) {}
}
