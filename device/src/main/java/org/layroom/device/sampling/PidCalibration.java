package org.layroom.device.sampling;

import java.time.LocalDate;

/**
 * What makes ppm of a PID module's voltage. Each module has its own zero and span; they drift, so
 * they are taken again with the module's gases.
 *
 * @param zeroVolts in clean air, 0 to 4 V
 * @param voltsPerPpm span, V for 1 ppm of isobutylene, above 0
 * @param topVolts from here on the reading is "at least", above the zero
 * @param styreneFactor ppm as styrene for 1 ppm isobutylene, above 0, at most 10
 * @param taken the day of the calibration
 */
public record PidCalibration(
    double zeroVolts, double voltsPerPpm, double topVolts, double styreneFactor, LocalDate taken) {
  public PidCalibration {
    within("PID zero", zeroVolts, 0, 4, "V");
    within("PID span", voltsPerPpm, 1e-6, 4, "V per ppm");
    within("PID top", topVolts, zeroVolts + voltsPerPpm, 4.09, "V");
    within("PID styrene factor", styreneFactor, 0.01, 10, "");
  }

  private static void within(String what, double value, double least, double most, String unit) {
    if (!(value >= least && value <= most)) {
      throw new IllegalArgumentException(
          "%s %s: must be from %s to %s %s".formatted(what, value, least, most, unit).strip());
    }
  }

  /** ppm as isobutylene; zero below the module's zero. */
  double isobutylenePpm(double volts) {
    return Math.max(0, (volts - zeroVolts) / voltsPerPpm);
  }
}
