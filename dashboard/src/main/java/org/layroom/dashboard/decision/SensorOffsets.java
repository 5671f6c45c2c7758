package org.layroom.dashboard.decision;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.layroom.dashboard.store.EventLog;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.SensorOffset;

/** What people found the sensors of each device to be off by, kept by series. */
public final class SensorOffsets {
  private static final String KEPT = "offsets/";
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final EventLog events;

  public SensorOffsets(EventLog events) {
    this.events = events;
  }

  private static String name(Channel channel) {
    return KEPT + channel.room() + "/" + channel.device();
  }

  public List<SensorOffset> of(Channel channel) {
    return new ArrayList<>(
        events.setting(name(channel)).map(SensorOffsets::read).orElse(List.of()));
  }

  private static List<SensorOffset> read(String text) {
    List<SensorOffset> offsets = new ArrayList<>();
    try {
      for (JsonNode one : JSON.readTree(text)) {
        offsets.add(
            new SensorOffset(
                one.path("series").asText(),
                one.path("amount").asDouble(),
                LocalDate.parse(one.path("taken").asText()),
                one.path("who").asText()));
      }
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("saved corrections cannot be read: " + text, e);
    }
    return offsets;
  }

  /** Keeps one in place of what was kept for its series. */
  public void keep(Channel channel, SensorOffset offset) {
    List<SensorOffset> all = of(channel);
    all.removeIf(one -> one.series().equals(offset.series()));
    all.add(offset);
    ArrayNode json = JSON.createArrayNode();
    for (SensorOffset one : all) {
      json.addObject()
          .put("series", one.series())
          .put("amount", one.amount())
          .put("taken", one.taken().toString())
          .put("who", one.who());
    }
    events.set(name(channel), json.toString());
  }
}
