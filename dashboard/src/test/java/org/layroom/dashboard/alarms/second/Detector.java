package org.layroom.dashboard.alarms.second;

import java.util.Random;

/**
 * A photoionization detector that reads 25 % low (asked for by the task), quenched by water and
 * fouled by what it has seen. Its reading is isobutylene.
 */
final class Detector {
  /** CHOICE within calibration drift of such detectors. */
  private static final double LOW = 0.75;

  /** MEMORY: RAE TN-106, acetone at 10.6 eV; ethanol about 10. */
  private static final double ACETONE_FACTOR = 1.1;

  private static final double ETHANOL_FACTOR = 10;

  private final Make make;
  private final Random random;
  private double zero;
  private double felt;

  /**
   * What a detector is like.
   *
   * @param styreneFactor ppm of styrene for one of isobutylene: 0.40 (MEMORY, TN-106) to 0.45
   *     (PUBLISHED, lamp not stated)
   * @param endPpm of isobutylene (CHOICE: 2000)
   * @param fouled what dirt on its lamp has left, 0-1 (CHOICE)
   */
  record Make(double styreneFactor, double endPpm, double fouled) {
    /** What it makes of air: isobutylene, ppm. */
    double reading(double styrene, double acetone, double ethanol, double humidityPct) {
      double all = styrene / styreneFactor + acetone / ACETONE_FACTOR + ethanol / ETHANOL_FACTOR;
      return Math.min(endPpm, LOW * fouled * quenched(humidityPct) * all);
    }

    /** CHOICE: 0.5 % less for each point of humidity above 40; that it reads low is MEMORY. */
    static double quenched(double humidityPct) {
      return 1 - 0.005 * Math.max(0, humidityPct - 40);
    }
  }

  Detector(Make make, Random random) {
    this.make = make;
    this.random = random;
  }

  /**
   * Goes on and reads, isobutylene ppm; below zero where its zero has wandered so. Wet dirt on the
   * lamp leaks: CHOICE, 1-2 ppm near 95 %.
   */
  double read(double seconds, double styrene, double acetone, double ethanol, double humidityPct) {
    double now = make.reading(styrene, acetone, ethanol, humidityPct);
    felt += (now - felt) * (1 - Math.exp(-seconds / 15)); // CHOICE: through the housing
    zero += -zero * seconds / 86400 + 0.4 * Math.sqrt(2 * seconds / 86400) * random.nextGaussian();
    double leak = Math.max(0, humidityPct - 85) * 0.15;
    double read = felt + zero + leak + 0.1 * random.nextGaussian();
    return Math.min(make.endPpm(), read);
  }

  /** Volts of a reading: CHOICE, 0.05 V at zero and 2.5 V at its end. */
  double volts(double reading) {
    return Math.max(0, 0.05 + 2.45 * reading / make.endPpm());
  }

  /** At the end of its range. */
  boolean atEnd(double reading) {
    return reading >= 0.995 * make.endPpm();
  }
}
