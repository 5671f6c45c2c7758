package org.layroom.dashboard.warning;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirWarning;

/**
 * A warning that stands.
 *
 * @param id names it for good, in this room
 * @param device whose air it is about
 * @param source who judged it
 * @param houseSide the device stands on the house side of the door
 * @param call never ok
 * @param since when it was raised, by the wall clock
 * @param why at least one reason, in the words that the sensor is entitled to
 * @param whatToDo what to do
 * @param endsWhen what would end it
 * @param acknowledged who has seen it, and when
 */
public record OpenWarning(
    String id,
    DeviceName device,
    Source source,
    boolean houseSide,
    AirCall call,
    Instant since,
    List<String> why,
    String whatToDo,
    String endsWhen,
    Optional<AirWarning.Seen> acknowledged) {
  /** Who judged the air. */
  public enum Source {
    /** Upstairs, from stored readings. */
    DASHBOARD,
    /** The device itself. */
    DEVICE
  }

  public OpenWarning {
    why = List.copyOf(why);
  }
}
