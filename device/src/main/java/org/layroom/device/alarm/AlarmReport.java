package org.layroom.device.alarm;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirWarning;

/** What the broker is told of the alarm. */
final class AlarmReport {
  private AlarmReport() {}

  /**
   * The state as told.
   *
   * @param warning the standing warning; empty when the air is ok
   * @param clock how times of the watch are told; empty where they mean nothing to others
   * @param uses which decisions the device goes by
   */
  static AlarmState of(
      Optional<AirWarning> warning,
      WarningNames names,
      Optional<WatchClock> clock,
      AlarmState.Uses uses) {
    AirCall call = warning.map(AirWarning::call).orElse(AirCall.OK);
    String id = warning.map(one -> names.of(one.id())).orElse("");
    return new AlarmState(
        call.name().toLowerCase(Locale.ROOT),
        warning.flatMap(one -> clock.map(times -> times.wall(one.since()))),
        id,
        warning.flatMap(AirWarning::acknowledged).map(seen -> acknowledgment(id, seen, clock)),
        warning.map(AirWarning::why).orElse(List.of()),
        warning.map(AirWarning::whatToDo).orElse(""),
        warning.map(AirWarning::endsWhen).orElse(""),
        uses);
  }

  private static Acknowledgment acknowledgment(
      String id, AirWarning.Seen seen, Optional<WatchClock> clock) {
    return new Acknowledgment(
        id, seen.who(), clock.map(times -> times.wall(seen.when())).orElse(seen.when()));
  }
}
