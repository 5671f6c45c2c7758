package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;

/** One change to the devices of the running dashboard. */
final class DeviceChange {
  private DeviceChange() {}

  /** Pairs or revokes, in the words of the dashboard. */
  static Answer ask(String action, String device, RoomChoice watched) throws StartFailure {
    ObjectNode body =
        JsonNodeFactory.instance.objectNode().put("action", action).put("device", device);
    watched.room.ifPresent(room -> body.put("room", room));
    return watched.client().told("api/devices", body);
  }
}
