package org.layroom.predictor.room;

import java.util.List;
import org.layroom.predictor.limits.Refusal;

/**
 * Why no forecast can be given, and what is needed.
 *
 * @param refused at least one reason
 */
public record RoomUnknown(List<Refusal> refused) implements RoomAnswer {
  public RoomUnknown {
    refused = List.copyOf(refused);
  }
}
