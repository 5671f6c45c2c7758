package org.layroom.device.alarm;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.predictor.fumes.AirWarning;
import org.layroom.predictor.fumes.VaporWatch;

/** What the broker is told of the alarm. */
final class AlarmReport {
  private AlarmReport() {}

  /**
   * The state as told.
   *
   * @param run tells this start of the device from every other, so that no id is used twice
   * @param clockSet whether times mean anything to others
   * @param uses which decisions the device goes by
   */
  static AlarmState of(VaporWatch watch, String run, boolean clockSet, AlarmState.Uses uses) {
    String state = watch.call().name().toLowerCase(Locale.ROOT);
    Optional<AirWarning> warning = watch.warning();
    String id = warning.map(one -> run + "-" + one.id()).orElse("");
    return new AlarmState(
        state,
        warning.filter(one -> clockSet).map(AirWarning::since),
        id,
        warning
            .flatMap(AirWarning::acknowledged)
            .map(seen -> new Acknowledgment(id, seen.who(), seen.when())),
        warning.map(AirWarning::why).orElse(List.of()),
        warning.map(AirWarning::whatToDo).orElse(""),
        warning.map(AirWarning::endsWhen).orElse(""),
        uses);
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
