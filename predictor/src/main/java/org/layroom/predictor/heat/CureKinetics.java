package org.layroom.predictor.heat;

/**
 * One resin at one dose: induction, then conversion a. The gel clock is {@code s(a) = phi + (1 -
 * phi) (u/u_gel)^0.4} with {@code u = a/(1-a)}, gel at a = 0.05 and s = 1; it runs with 54 kJ/mol
 * before gel and with the published propagation energy of 23.6 kJ/mol (Thermochim. Acta 289 (1996)
 * 209) after. Vitrification stops it where the glass temperature {@code -70 + 150 a/2/(1 - a/2)}
 * (the form of DiBenedetto; Tg is one function of conversion: Polymer 34 (1993) 3216) reaches the
 * part's own. Exponents and glass temperatures are chosen, fitted by eye to published cups.
 *
 * @param phi part of the gel time that is pure induction, 0 (slow) to 0.9 (sharp)
 * @param gelMinutes isothermal gel time at 20 degC and this dose, above zero
 */
public record CureKinetics(double phi, double gelMinutes) {
  /** Shape of a can whose peak and gel time are not both known (chosen). */
  public static final double USUAL_PHI = 0.35;

  /** Conversion at which a cup reading begins. */
  static final double START = 1e-4;

  static final double GEL = 0.05;

  /** Conversion at which a knife cuts and does not drag (chosen). */
  static final double LEATHERY = 0.25;

  private static final double U_GEL = GEL / (1 - GEL);
  private static final double POWER = 0.4;
  private static final double EA_GEL = 54;
  private static final double EA_PROPAGATION = 23.6;
  private static final double STEEPNESS = 50;
  private static final double GLASS_LOW_C = -70;
  private static final double GLASS_RANGE_K = 150;
  private static final double LAMBDA = 0.5;
  private static final double R_KJ = 8.314462618e-3;
  private static final double ZERO_C_IN_K = 273.15;
  private static final double REFERENCE_K = 20 + ZERO_C_IN_K;

  /**
   * Peak over gel in a cup for three shapes (computed with this model; the middle of 1.85-1.95).
   */
  private static final double[] SHAPES = {0, USUAL_PHI, 0.85};

  private static final double[] RATIOS = {2.6, 1.9, 1.25};

  public CureKinetics {
    if (!(phi >= 0 && phi <= 0.9)) {
      throw new IllegalArgumentException("phi " + phi + " must be between 0 and 0.9");
    }
    if (!(gelMinutes > 0 && gelMinutes < 1e5)) {
      throw new IllegalArgumentException("gel time " + gelMinutes + " min must be above 0");
    }
  }

  /**
   * A resin of which the data sheet prints both times of a cup.
   *
   * @param peakToGel time of the exotherm peak over the gel time, 1 to 4
   */
  public static CureKinetics ofRatio(double peakToGel, double gelMinutes) {
    for (int i = 0; i < RATIOS.length - 1; i++) {
      if (peakToGel >= RATIOS[i + 1]) {
        double part = Math.max(0, (RATIOS[i] - peakToGel) / (RATIOS[i] - RATIOS[i + 1]));
        return new CureKinetics(SHAPES[i] + part * (SHAPES[i + 1] - SHAPES[i]), gelMinutes);
      }
    }
    return new CureKinetics(SHAPES[SHAPES.length - 1], gelMinutes);
  }

  /** The gel clock at a conversion: 1 at gel. */
  double clock(double conversion) {
    return phi + (1 - phi) * StrictMath.pow(conversion / (1 - conversion) / U_GEL, POWER);
  }

  /** The conversion at a reading of the gel clock above phi. */
  double conversion(double clock) {
    double u = U_GEL * StrictMath.pow((clock - phi) / (1 - phi), 1 / POWER);
    return u / (1 + u);
  }

  /** Rate of the gel clock against 20 degC. */
  static double gelRate(double temperatureC) {
    return rate(EA_GEL, temperatureC);
  }

  /** Rate after gel against 20 degC. */
  static double propagationRate(double temperatureC) {
    return rate(EA_PROPAGATION, temperatureC);
  }

  private static double rate(double Ea, double temperatureC) {
    double perK = 1 / (temperatureC + ZERO_C_IN_K) - 1 / REFERENCE_K;
    return StrictMath.exp(-Ea / R_KJ * perK);
  }

  /** Glass temperature at a conversion, degC. */
  static double glassC(double conversion) {
    double bound = LAMBDA * conversion;
    return GLASS_LOW_C + GLASS_RANGE_K * bound / (1 - bound);
  }

  /** The conversion at which a part of a temperature turns to glass. */
  static double glassConversion(double temperatureC) {
    double y = (temperatureC - GLASS_LOW_C) / GLASS_RANGE_K;
    return y / (LAMBDA + LAMBDA * y);
  }

  /** Minutes at a temperature until conversion begins. */
  double startMinutes(double temperatureC) {
    return clock(START) * gelMinutes / gelRate(temperatureC);
  }

  /** Rate of conversion, per minute. */
  double perMinute(double conversion, double temperatureC) {
    double x = StrictMath.pow(conversion / (1 - conversion) / U_GEL, POWER);
    double left = 1 - conversion;
    double shape = left * left * U_GEL / POWER * x * StrictMath.sqrt(x) / (1 - phi);
    double rate = conversion < GEL ? gelRate(temperatureC) : propagationRate(temperatureC);
    double glass = STEEPNESS * (conversion - glassConversion(temperatureC));
    return shape * rate / gelMinutes / (1 + StrictMath.exp(glass));
  }
}
