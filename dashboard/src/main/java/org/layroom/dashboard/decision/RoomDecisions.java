package org.layroom.dashboard.decision;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.store.EventLog;
import org.layroom.device.telemetry.RoomName;

/**
 * What was decided about the air of each room, and the job under way there, as it is kept. Not for
 * several threads.
 */
public final class RoomDecisions {
  private static final String SETTINGS = "air.settings/";
  private static final String JOB = "air.job/";
  private static final String WIPING = "air.wiping/";
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final EventLog events;
  private final Map<RoomName, AirSettings> settings = new HashMap<>();
  private final Map<RoomName, Optional<AirJob>> jobs = new HashMap<>();

  public RoomDecisions(EventLog events) {
    this.events = events;
  }

  public AirSettings settings(RoomName room) {
    return settings.computeIfAbsent(
        room, one -> read(SETTINGS + one).map(AirSettings::of).orElse(AirSettings.FIRST));
  }

  public void keep(RoomName room, AirSettings decided) {
    settings.put(room, decided);
    events.set(SETTINGS + room, decided.json().toString());
  }

  public Optional<AirJob> job(RoomName room) {
    return jobs.computeIfAbsent(room, this::keptJob);
  }

  private Optional<AirJob> keptJob(RoomName room) {
    return read(JOB + room)
        .filter(node -> node.has("until"))
        .map(
            node ->
                new AirJob(
                    Instant.parse(node.path("started").asText()),
                    Instant.parse(node.path("until").asText()),
                    node.path("who").asText(),
                    node.path("fanOn").asBoolean(),
                    node.path("respiratorOn").asBoolean()));
  }

  /** Keeps the job under way, or that there is none. */
  public void keep(RoomName room, Optional<AirJob> job) {
    jobs.put(room, job);
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    job.ifPresent(
        one ->
            node.put("started", one.started().toString())
                .put("until", one.until().toString())
                .put("who", one.who())
                .put("fanOn", one.fanOn())
                .put("respiratorOn", one.respiratorOn()));
    events.set(JOB + room, node.toString());
  }

  /** When solvent was last said to be wiped in a room. */
  public Optional<Instant> wiping(RoomName room) {
    return read(WIPING + room).map(node -> Instant.parse(node.path("at").asText()));
  }

  /** Keeps when solvent was said to be wiped. */
  public void keepWiping(RoomName room, Instant at) {
    events.set(
        WIPING + room, JsonNodeFactory.instance.objectNode().put("at", at.toString()).toString());
  }

  /** The rooms whose job was ever asked for. */
  public List<RoomName> rooms() {
    return List.copyOf(jobs.keySet());
  }

  private Optional<JsonNode> read(String name) {
    try {
      Optional<String> text = events.setting(name);
      return text.isEmpty() ? Optional.empty() : Optional.of(JSON.readTree(text.get()));
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("the store's setting " + name + " is damaged", e);
    }
  }
}
