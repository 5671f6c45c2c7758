package org.layroom.device.config;

import java.util.List;
import java.util.Optional;
import org.layroom.device.sampling.PidCalibration;
import org.layroom.predictor.exposure.ExposureLimit;

/**
 * The settings of a PID module behind an ADS1115.
 *
 * @param input of the ADS1115, 0 to 3
 * @param calibration without it only the voltage is told
 * @param limit what the alarm in the room goes by
 */
public record PidSettings(int input, Optional<PidCalibration> calibration, ExposureLimit limit) {
  static final List<String> KEYS =
      List.of(
          "pid.input",
          "pid.zero-volts",
          "pid.volts-per-ppm",
          "pid.top-volts",
          "pid.styrene-factor",
          "pid.calibrated",
          "pid.limit");

  private static final double MOST_VOLTS = 4.09;

  static PidSettings of(SettingsText text) {
    Optional<String> zero = text.optional("pid.zero-volts");
    Optional<String> span = text.optional("pid.volts-per-ppm");
    Optional<String> day = text.optional("pid.calibrated");
    if (zero.isPresent() != span.isPresent() || zero.isPresent() != day.isPresent()) {
      throw new IllegalArgumentException(
          "set pid.zero-volts, pid.volts-per-ppm and pid.calibrated (a day) together");
    }
    return new PidSettings(
        (int) text.number("pid.input", 0, 3), day.map(taken -> calibration(text)), limit(text));
  }

  private static PidCalibration calibration(SettingsText text) {
    return new PidCalibration(
        text.number("pid.zero-volts", 0, 4),
        text.number("pid.volts-per-ppm", 1e-6, 4),
        text.number("pid.top-volts", 0.01, MOST_VOLTS),
        text.number("pid.styrene-factor", 0.01, 10),
        text.day("pid.calibrated"));
  }

  private static ExposureLimit limit(SettingsText text) {
    Optional<String> id = text.optional("pid.limit");
    return id.isEmpty()
        ? ExposureLimit.untilChosen()
        : ExposureLimit.byId(id.get())
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "pid.limit \""
                            + id.get()
                            + "\": enter one of "
                            + String.join(
                                ", ",
                                ExposureLimit.table().stream().map(ExposureLimit::id).toList())));
  }
}
