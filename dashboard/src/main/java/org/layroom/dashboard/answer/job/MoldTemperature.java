package org.layroom.dashboard.answer.job;

import java.time.Instant;
import java.util.List;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.cure.TemperatureOutlook;

/** How warm a mold was since a cup was mixed, and will be. */
public interface MoldTemperature {
  /**
   * The temperature from mixing on: measured until now, expected from there.
   *
   * @param molds names of the molds in use: a sensor of that name goes before the others
   * @param mixedC what was measured or typed when the cup was mixed, degC
   */
  TemperatureOutlook since(
      RoomName room, List<String> molds, Instant mixed, double mixedC, Instant now);
}
