package org.layroom.device.alarm;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.VaporWatch;

/** What the broker is told of the alarm. */
final class AlarmReport {
  private AlarmReport() {}

  /**
   * The state as told.
   *
   * @param run tells this start of the device from every other, so that no id is used twice
   * @param clock how times of the watch are told; empty where they mean nothing to others
   * @param uses which decisions the device goes by
   */
  static AlarmState of(
      VaporWatch watch, String run, Optional<WallTimes> clock, AlarmState.Uses uses) {
    String state = watch.call().name().toLowerCase(Locale.ROOT);
    Optional<AirWarning> warning = watch.warning();
    String id = warning.map(one -> run + "-" + one.id()).orElse("");
    return new AlarmState(
        state,
        warning.flatMap(one -> clock.map(times -> times.of(one.since()))),
        id,
        warning.flatMap(AirWarning::acknowledged).map(seen -> acknowledgment(id, seen, clock)),
        warning.map(AirWarning::why).orElse(List.of()),
        warning.map(AirWarning::whatToDo).orElse(""),
        warning.map(AirWarning::endsWhen).orElse(""),
        uses);
  }

  private static Acknowledgment acknowledgment(
      String id, AirWarning.Seen seen, Optional<WallTimes> clock) {
    return new Acknowledgment(
        id, seen.who(), clock.map(times -> times.of(seen.when())).orElse(seen.when()));
  }

  /** The watch's own number of a warning; empty when it is none of this start. */
  static Optional<Long> warningId(String id, String run) {
    if (!id.startsWith(run + "-")) {
      return Optional.empty();
    }
    try {
      return Optional.of(Long.parseLong(id.substring(run.length() + 1)));
    } catch (NumberFormatException e) {
      return Optional.empty();
    }
  }
}
