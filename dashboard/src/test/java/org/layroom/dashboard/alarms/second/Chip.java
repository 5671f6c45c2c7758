package org.layroom.dashboard.alarms.second;

import java.util.Random;

/**
 * A metal-oxide chip that gives the logarithm of its resistance. Level is times clean air; it is a
 * power of what the chip answers to. PUBLISHED: 870 ticks per doubling (data sheet, for ethanol);
 * exponents 0.5-0.8 of metal-oxide films (asked for by the task; MEMORY: Figaro TGS data sheets).
 */
final class Chip {
  /** PUBLISHED in the project's facts, from the SGP40 data sheet. */
  static final double TICKS_PER_DOUBLING = 870;

  /** CHOICE in the project's facts: clean air is like 0.5 ppm of ethanol to it. */
  static final double CLEAN_PPM = 0.5;

  /** MEMORY: settling for an hour, SGP40 data sheet. */
  static final double SETTLING_S = 3600;

  /** MEMORY: the first minute is discarded, SGP40 data sheet. */
  static final double DISCARDED_S = 60;

  private static final double KNEE_TICKS = 120;

  private final Make make;
  private final Weather.Climate taken;
  private final Random random;
  private double felt = CLEAN_PPM;
  private double background;
  private double drift;
  private double heatedS = 1e9;
  private double offsetTicks;
  private double noise;

  /**
   * What a chip is like.
   *
   * @param styrene its answer to styrene, of that to ethanol: 0.05-1 (CHOICE in the facts)
   * @param acetone the same of acetone: 0.3-1 (CHOICE)
   * @param exponent 0.5-0.8
   * @param humidityPower what is left of its answer to water after compensation: level goes as
   *     water^power, 0.05-0.15 (CHOICE); without compensation three times that (MEMORY: resistance
   *     falls by a fifth from 35 to 65 % at 20 degC, Figaro TGS data sheets, a power near 0.3)
   * @param perDegree the same of temperature, 0.002-0.008 of its level (CHOICE)
   * @param dailyDrift ticks, how far its clean air wanders in a day: 30-80 (CHOICE)
   * @param startDrift ticks toward vapor since its clean-air reading
   * @param endLevel times clean air, where it goes flat; usually beyond 1000 ppm of ethanol
   *     (MEMORY: range of the SGP40 data sheet)
   * @param left what silicone has left of its logarithmic answer, 0-1 (CHOICE; that silicone
   *     poisons tin oxide is MEMORY)
   * @param cleanTicks its clean-air reading, 28000-32000 (MEMORY: about 30000)
   */
  record Make(
      double styrene,
      double acetone,
      double exponent,
      double humidityPower,
      double perDegree,
      double dailyDrift,
      double startDrift,
      double endLevel,
      double left,
      double cleanTicks) {
    /**
     * Ticks below clean air in dry, settled use.
     *
     * @param ethanolPpm all that it answers to, clean air's own included
     */
    double fall(double ethanolPpm) {
      double doublings = exponent * Math.log(ethanolPpm / CLEAN_PPM) / Math.log(2);
      return flattened(left * TICKS_PER_DOUBLING * doublings);
    }

    /** Flat at its end: a smooth least of both. */
    private double flattened(double fall) {
      double end = TICKS_PER_DOUBLING * Math.log(endLevel) / Math.log(2);
      double higher = Math.max(fall, end);
      double lower = Math.min(fall, end);
      return lower - KNEE_TICKS * Math.log1p(Math.exp((lower - higher) / KNEE_TICKS));
    }

    /** What it shows in so much styrene and nothing else: times clean air. */
    double level(double styrenePpm) {
      return Math.pow(2, fall(CLEAN_PPM + styrene * styrenePpm) / TICKS_PER_DOUBLING);
    }
  }

  /**
   * A chip whose clean-air reading was taken in the middle of this climate.
   *
   * @param random of its noise and drift
   */
  Chip(Make make, Weather.Climate taken, Random random) {
    this.make = make;
    this.taken = taken;
    this.random = random;
    drift = make.startDrift() + make.dailyDrift() * random.nextGaussian();
  }

  /**
   * Its supply or its program begins again.
   *
   * @param cold the heater was off: it shows vapor that is not there. CHOICE: 1200 ticks, gone in
   *     ten minutes; 150 after a restart of the program alone
   */
  void restarted(boolean cold) {
    heatedS = 0;
    offsetTicks = cold ? 1200 : 150;
  }

  /** Since it was last started. */
  double heatedS() {
    return heatedS;
  }

  /**
   * Goes on and reads.
   *
   * @param compensated it was told temperature and humidity
   * @return raw ticks
   */
  double read(
      double seconds, double ethanolPpm, double celsius, double humidityPct, boolean compensated) {
    heatedS += seconds;
    // CHOICE: clean air itself varies by a sixth over six hours.
    background += -background * seconds / 21600 + 0.16 * gauss(2 * seconds / 21600);
    drift += make.dailyDrift() * gauss(seconds / 86400);
    // CHOICE: 20 s to feel more vapor through the housing, 90 s to lose it.
    double now = CLEAN_PPM * Math.exp(background) + ethanolPpm;
    felt += (now - felt) * (1 - Math.exp(-seconds / (now > felt ? 20.0 : 90.0)));
    double water =
        Weather.waterGramsPerM3(celsius, humidityPct)
            / Weather.waterGramsPerM3(taken.meanC(), taken.meanPct());
    double strength = compensated ? 1 : 3;
    double climate =
        strength
            * TICKS_PER_DOUBLING
            / Math.log(2)
            * (make.humidityPower() * Math.log(water)
                + make.perDegree() * (celsius - taken.meanC()));
    double end = TICKS_PER_DOUBLING * Math.log(make.endLevel()) / Math.log(2);
    double fall = make.fall(felt) + climate + drift + offsetTicks * Math.exp(-heatedS / 600);
    noise = 0.7 * noise + 6 * random.nextGaussian(); // CHOICE: 8 ticks in all
    double shown = Math.min(fall, end) + (fall < end - KNEE_TICKS ? noise : noise / 6);
    return Math.max(0, Math.min(65535, Math.rint(make.cleanTicks() - shown)));
  }

  private double gauss(double variance) {
    return Math.sqrt(variance) * random.nextGaussian();
  }
}
