package org.layroom.dashboard.alarms.second;

/** Something that gives off vapor: how many milligrams a second, and of what. */
sealed interface Source {
  /** What a source gives off. */
  enum Vapor {
    /** Counts as the danger. */
    STYRENE,
    /** Solvent. */
    ACETONE,
    /** Hand gel; the chip's own reference gas. */
    ETHANOL
  }

  /** What it gives off. */
  Vapor vapor();

  /**
   * How fast.
   *
   * @param second since the first moment
   * @param airC the air's temperature
   * @return mg/s
   */
  double rate(double second, double airC);

  /**
   * Styrene over resin at a temperature, as a multiple of that at 25 degC, by the vapor pressure of
   * styrene. PUBLISHED: Landolt-Boernstein IV/20, ln P[Pa] = 21.487332648 - 3677.235301/(T -
   * 49.03), 285-418 K. That emission follows it is a CHOICE.
   */
  static double vaporPressureRatio(double celsius) {
    return Math.exp(3677.235301 / (298.15 - 49.03) - 3677.235301 / (celsius + 273.15 - 49.03));
  }

  /**
   * Resin or gel coat that is laid up at an even pace: each patch gives off styrene that dies away
   * as it cures, and a last part seeps out for days.
   *
   * @param startS since the first moment
   * @param applyS how long the laying up takes
   * @param kilograms of resin
   * @param styrenePct of it by weight
   * @param gelCoat gel coat, not laminate
   * @param curingC the temperature that the cure's pace is taken from
   */
  record Layup(
      double startS,
      double applyS,
      double kilograms,
      double styrenePct,
      boolean gelCoat,
      double curingC)
      implements Source {
    /** CHOICE: what comes off after the gel, as a share of all. */
    private static final double SLOW_SHARE = 0.04;

    /** CHOICE: an uncured part smells for days. */
    private static final double SLOW_S = 24 * 3600;

    /** CHOICE: wet area of a kilogram, one thick ply, m2. */
    private static final double AREA_PER_KG = 0.8;

    /** PUBLISHED: rolling gives off 59-79 mg/s per m2 of wet area (Saamanen et al. 1991). */
    private static final double MOST_PER_AREA = 79;

    @Override
    public Vapor vapor() {
      return Vapor.STYRENE;
    }

    /**
     * All that a layup gives off at 25 degC, g. PUBLISHED: 40 CFR 63 Subpart VVVV Table 3, kg per
     * Mg: non-atomized resin 0.014 HAP^2.275, gel coat 0.445 HAP^1.675. That it holds at 25 degC is
     * a CHOICE.
     */
    double grams() {
      double each =
          gelCoat ? 0.445 * Math.pow(styrenePct, 1.675) : 0.014 * Math.pow(styrenePct, 2.275);
      return kilograms * each;
    }

    /**
     * How fast a patch's vapor dies away. CHOICE: half a gel time, 30 min for laminate and 16 min
     * for gel coat at 25 degC; twice as long 10 degC colder (common practice, no source).
     */
    double fadeS() {
      return (gelCoat ? 480 : 900) * Math.pow(2, (25 - curingC) / 10);
    }

    @Override
    public double rate(double second, double airC) {
      double pace = 1000 * grams() / applyS;
      double fast = (1 - SLOW_SHARE) * pace * patches(second - startS, fadeS());
      double slow = SLOW_SHARE * pace * patches(second - startS, SLOW_S);
      double most = MOST_PER_AREA * AREA_PER_KG * kilograms;
      return Math.min(most, (fast + slow) * vaporPressureRatio(airC));
    }

    /** Patches laid at an even pace, each fading as exp(-t/fade)/fade: their sum. */
    private double patches(double age, double fade) {
      if (age <= 0) {
        return 0;
      }
      double laid = 1 - Math.exp(-Math.min(age, applyS) / fade);
      return laid * Math.exp(-Math.max(0, age - applyS) / fade);
    }
  }

  /**
   * Liquid on a rag or a surface that dries: a pulse.
   *
   * @param dryingS time in which all but a third is gone; CHOICE 30 to 300 s: acetone boils at 56
   *     degC and has 24 kPa at 20 degC (MEMORY, NIOSH Pocket Guide: 180 mmHg)
   */
  record Wipe(Vapor vapor, double startS, double grams, double dryingS) implements Source {
    @Override
    public double rate(double second, double airC) {
      double age = second - startS;
      return age < 0 ? 0 : 1000 * grams / dryingS * Math.exp(-age / dryingS);
    }
  }

  /**
   * An open can, bath or puddle.
   *
   * @param mgPerS at 25 degC; CHOICE 2-5 mg/s for an open can; a puddle 59 mg/s per m2, as rolling
   *     does (PUBLISHED, Saamanen et al. 1991; that a puddle does the same is a CHOICE)
   */
  record Open(Vapor vapor, double startS, double endS, double mgPerS) implements Source {
    @Override
    public double rate(double second, double airC) {
      boolean open = second >= startS && second < endS;
      return open ? mgPerS * vaporPressureRatio(airC) : 0;
    }
  }
}
