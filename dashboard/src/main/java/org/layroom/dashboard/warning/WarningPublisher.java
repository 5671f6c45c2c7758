package org.layroom.dashboard.warning;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Topic;

/** Tells the open warnings of a room on MQTT, retained. */
final class WarningPublisher {
  /** What is told stands this long without being told anew. */
  static final Duration STANDS = Duration.ofMinutes(3);

  private final DashboardCore core;
  private final AirPicture picture;

  WarningPublisher(DashboardCore core, AirPicture picture) {
    this.core = core;
    this.picture = picture;
  }

  void tell(RoomName room) {
    RoomAir air = picture.air(room);
    String body = WarningJson.told(room, air, air.at().plus(STANDS)).toString();
    core.publish(Topic.warnings(room), body.getBytes(StandardCharsets.UTF_8), true);
  }
}
