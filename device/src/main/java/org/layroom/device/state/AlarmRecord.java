package org.layroom.device.state;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.device.alarm.AlarmMemory;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.WatchMemory;

/**
 * The alarm's memory as it stands in its file: one JSON object.
 *
 * @param at by the wall clock
 * @param atBelieved whether that was set
 * @param machine how long the computer had been on; empty where nobody could tell
 */
record AlarmRecord(
    AlarmMemory memory, Instant at, boolean atBelieved, Optional<MachineUptime> machine) {
  private static final ObjectMapper JSON = new ObjectMapper();

  byte[] write() throws IOException {
    ObjectNode node = JSON.createObjectNode();
    node.put("at", at.toString()).put("clockSet", atBelieved);
    machine.ifPresent(on -> node.put("boot", on.boot()).put("upMillis", on.up().toMillis()));
    WatchMemory watch = memory.watch();
    node.put("air", watch.base().name())
        .put("lastId", watch.lastId())
        .put("seenAt", watch.seenAt());
    node.put("fanOn", memory.fanOn()).put("mayExplode", memory.mayExplode());
    watch.wiping().ifPresent(since -> node.put("wiping", since.toString()));
    watch.warning().ifPresent(one -> write(one, node.putObject("warning")));
    return JSON.writeValueAsBytes(node);
  }

  private void write(AirWarning one, ObjectNode node) {
    node.put("id", memory.warningId())
        .put("number", one.id())
        .put("call", one.call().name())
        .put("since", one.since().toString())
        .put("whatToDo", one.whatToDo())
        .put("endsWhen", one.endsWhen())
        .put("sound", one.sound().name());
    var why = node.putArray("why");
    one.why().forEach(why::add);
    one.acknowledged()
        .ifPresent(seen -> node.put("seenBy", seen.who()).put("seenAt", seen.when().toString()));
  }

  /**
   * Reads a record.
   *
   * @throws IOException when it is none
   */
  static AlarmRecord read(byte[] content) throws IOException {
    try {
      JsonNode node = JSON.readTree(content);
      JsonNode warning = node.path("warning");
      WatchMemory watch =
          new WatchMemory(
              AirCall.valueOf(node.path("air").asText()),
              warning.isObject() ? Optional.of(warning(warning)) : Optional.empty(),
              node.path("lastId").asLong(),
              node.path("seenAt").asDouble(),
              Optional.empty(),
              node.has("wiping")
                  ? Optional.of(Instant.parse(node.path("wiping").asText()))
                  : Optional.empty());
      return new AlarmRecord(
          new AlarmMemory(
              watch,
              warning.path("id").asText(),
              node.path("fanOn").asBoolean(),
              node.path("mayExplode").asBoolean()),
          Instant.parse(node.path("at").asText()),
          node.path("clockSet").asBoolean(),
          node.has("boot")
              ? Optional.of(
                  new MachineUptime(
                      node.path("boot").asText(),
                      Duration.ofMillis(node.path("upMillis").asLong())))
              : Optional.empty());
    } catch (DateTimeException | IllegalArgumentException e) {
      throw new IOException("not a record of the alarm: " + e.getMessage(), e);
    }
  }

  private static AirWarning warning(JsonNode node) {
    List<String> why = new ArrayList<>();
    node.path("why").forEach(reason -> why.add(reason.asText()));
    return new AirWarning(
        node.path("number").asLong(),
        AirCall.valueOf(node.path("call").asText()),
        Instant.parse(node.path("since").asText()),
        why,
        node.path("whatToDo").asText(),
        node.path("endsWhen").asText(),
        node.has("seenBy")
            ? Optional.of(
                new AirWarning.Seen(
                    node.path("seenBy").asText(), Instant.parse(node.path("seenAt").asText())))
            : Optional.empty(),
        AirWarning.Sound.valueOf(node.path("sound").asText()));
  }

  /**
   * How long ago it was made.
   *
   * @param now on the computer's own time, where that can be told
   * @param wall now by the wall clock; empty while that is not set
   * @return empty where nobody can tell
   */
  Optional<Duration> age(Optional<MachineUptime> now, Optional<Instant> wall) {
    return now.flatMap(on -> machine.flatMap(on::since))
        .or(
            () ->
                wall.filter(time -> atBelieved && !time.isBefore(at))
                    .map(time -> Duration.between(at, time)));
  }
}
