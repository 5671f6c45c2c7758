package org.layroom.predictor.room;

import java.time.Instant;
import org.layroom.predictor.limits.Words;

/**
 * A jump of the temperature that stayed.
 *
 * @param time when it jumped
 * @param stepK by how much, K
 */
public record RoomChange(Instant time, double stepK) {
  /** One sentence for people; the time is left to the caller, who knows the zone. */
  public String words() {
    return "The temperature jumped "
        + (stepK > 0 ? "up by " : "down by ")
        + Words.celsiusDifference(Math.abs(stepK))
        + " and stayed there. Was the sensor moved, the heater switched, or a door left open?"
        + " The forecast is less certain until the room is learned again.";
  }
}
