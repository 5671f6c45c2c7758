package org.layroom.predictor.room;

import java.util.List;
import org.layroom.predictor.limits.Refusal;

/**
 * Why no forecast can be given, and what is needed.
 *
 * @param refused at least one reason
 */
public record NoForecast(List<Refusal> refused) implements RoomAnswer {
  public NoForecast {
    refused = List.copyOf(refused);
  }
}
