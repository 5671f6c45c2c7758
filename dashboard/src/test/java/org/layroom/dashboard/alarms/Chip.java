package org.layroom.dashboard.alarms;

import java.util.Random;

/**
 * A metal-oxide chip or a detector of the first simulation. A metal oxide's conductance follows a
 * power of the gas with an exponent of 0.5 to 0.8 (published for tin oxide; from memory), the
 * logarithm of which is the raw signal: 870 ticks a doubling of what it is calibrated with (SGP40
 * data sheet).
 *
 * @param answerPerPpm styrene beside the vapor that clean air has, per ppm
 * @param exponent of the metal oxide; 1 is the data sheet's own law
 * @param swingTicks half of the daily swing in clean air
 */
record Chip(String name, double answerPerPpm, double exponent, double swingTicks) {
  static final double CLEAN_TICKS = 30_000;
  private static final double TICKS = 870;

  /** Acetone against styrene at a metal oxide (from memory: the light ketone answers more). */
  private static final double ACETONE = 1.5;

  /** A detector's answer to acetone, isobutylene's being 1 (factor 1.1; from memory, TN-106). */
  private static final double PID_ACETONE = 1 / 1.1;

  /** Reads a quarter low, as an aging lamp does. */
  private static final double PID_LOW = 0.75;

  private static final double STYRENE_FACTOR = 0.45;
  private static final double PID_END_PPM = 1200;

  /** A detector. */
  static final Chip PID = new Chip("PID, 25 % low", 0, 0, 0);

  boolean pid() {
    return exponent == 0;
  }

  /** Times clean air at so much vapor. */
  double level(double styrenePpm, double acetonePpm, double poisoned) {
    return Math.pow(1 + poisoned * answerPerPpm * (styrenePpm + ACETONE * acetonePpm), exponent);
  }

  double wander() {
    return Math.pow(2, 2 * swingTicks / TICKS);
  }

  Sensor sensor(
      String device,
      boolean houseSide,
      double cleanTicks,
      double share,
      double poisoned,
      double drift) {
    return pid()
        ? new Sensor(device, Sensor.Kind.PID, houseSide, 0, 200 * PID_LOW, 1)
        : new Sensor(
            device,
            Sensor.Kind.CHIP,
            houseSide,
            cleanTicks,
            level(200 * share, 0, poisoned) * Math.pow(2, -drift / TICKS),
            wander());
  }

  /**
   * The raw signal.
   *
   * @param shift of the clean signal by temperature, humidity and age, ticks
   * @param endTicks where the chip goes no lower
   */
  double ticks(double level, double shift, double endTicks, Random noise) {
    double ticks = CLEAN_TICKS + shift - TICKS * Math.log(level) / Math.log(2);
    return Math.max(Math.max(ticks, endTicks) + 6 * noise.nextGaussian(), 0);
  }

  Happening pid(String device, double styrenePpm, double acetonePpm, Random noise) {
    double read =
        Math.max(
            0,
            PID_LOW * (styrenePpm / STYRENE_FACTOR + PID_ACETONE * acetonePpm)
                + 0.05 * noise.nextGaussian());
    boolean end = read >= PID_END_PPM;
    double shown = Math.min(PID_END_PPM, read);
    return new Happening.PidRead(
        device, shown, 0.05 + 2.4 * shown / PID_END_PPM + 1e-5 * noise.nextGaussian(), end);
  }
}
