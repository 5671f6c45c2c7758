package org.layroom.dashboard.job;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;

/**
 * An event as kept.
 *
 * @param position grows with every event of the store
 * @param id made by whoever sent it
 * @param time when it happened, by the room's clock
 * @param around the room as it was, and for a mix what was predicted
 */
public record StoredJobEvent(
    long position, String id, Instant time, JobEvent event, ObjectNode around) {
  /** What was predicted for a mix; a missing node otherwise. */
  public JsonNode predicted() {
    return around.path("predicted");
  }

  /** The room as it was. */
  public JsonNode room() {
    return around.path("room");
  }
}
