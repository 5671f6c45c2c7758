package org.layroom.dashboard.warning;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.Locale;
import org.layroom.device.telemetry.RoomName;

/** The open warnings as JSON: the same on MQTT, over HTTP and on the page. */
public final class WarningJson {
  private WarningJson() {}

  /** What is told of a room's air, with until when it stands. */
  public static ObjectNode told(RoomName room, RoomAir air, Instant validUntil) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("room", room.value()).put("time", air.at().toString());
    json.put("validUntil", validUntil.toString());
    json.put("air", air.call().name().toLowerCase(Locale.ROOT));
    json.put("mode", air.settings().mode().id());
    ArrayNode list = json.putArray("warnings");
    air.warnings().forEach(warning -> list.add(warning(warning)));
    return json;
  }

  private static ObjectNode warning(OpenWarning warning) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("id", warning.id()).put("device", warning.device().value());
    json.put("source", warning.source().name().toLowerCase(Locale.ROOT));
    json.put("houseSide", warning.houseSide());
    json.put("state", warning.call().name().toLowerCase(Locale.ROOT));
    json.put("since", warning.since().toString());
    ArrayNode why = json.putArray("why");
    warning.why().forEach(why::add);
    json.put("whatToDo", warning.whatToDo()).put("endsWhen", warning.endsWhen());
    warning
        .acknowledged()
        .ifPresent(
            seen ->
                json.putObject("acknowledged")
                    .put("who", seen.who())
                    .put("when", seen.when().toString()));
    return json;
  }
}
