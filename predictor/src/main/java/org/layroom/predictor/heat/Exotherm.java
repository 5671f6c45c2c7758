package org.layroom.predictor.heat;

/**
 * How hot it likely gets, and when.
 *
 * @param peakC likely peak, degC
 * @param peakMinutes minutes after mixing
 * @param gelMinutes when it gels with its own heat, minutes after mixing
 * @param leatheryMinutes when conversion passes 0.25 and a knife cuts, minutes after mixing; not
 *     after the peak
 * @param roomC temperature of the room, degC
 */
public record Exotherm(
    double peakC, double peakMinutes, double gelMinutes, double leatheryMinutes, double roomC) {
  /** Spread of the logarithm of the rise over the room (chosen). */
  public static final double LN_RISE = 0.3;

  private static final double STEP_GEL_TIMES = 0.005;
  private static final double LONGEST_GEL_TIMES = 15;
  private static final double PAST_PEAK_K = 0.2;

  /**
   * A laminate laid in one pass.
   *
   * @param roomC temperature of mold and room, 0 to 60 degC
   */
  public static Exotherm ofLaminate(
      CureKinetics resin, Laminate laminate, MoldKind mold, double roomC) {
    return run(HeatBalance.laminate(resin, laminate, mold, roomC), resin, roomC);
  }

  /**
   * A cup of resin that is left standing in air.
   *
   * @param grams 10 to 20,000 g
   * @param roomC temperature of resin and room, 0 to 60 degC
   */
  public static Exotherm ofCup(CureKinetics resin, double grams, double roomC) {
    double cooling = HeatBalance.coolingMinutes(grams);
    return run(HeatBalance.cup(resin, cooling, roomC), resin, roomC);
  }

  private static Exotherm run(HeatBalance balance, CureKinetics resin, double roomC) {
    double gelTime = resin.gelMinutes() / CureKinetics.gelRate(roomC);
    double step = STEP_GEL_TIMES * gelTime;
    double end = LONGEST_GEL_TIMES * gelTime;
    double gel = gelTime;
    double leathery = Double.POSITIVE_INFINITY;
    double peakC = roomC;
    double peakMinutes = gelTime;
    double before = balance.conversion();
    while (balance.minutes() < end && balance.temperatureC() > peakC - PAST_PEAK_K) {
      balance.step(step, roomC);
      double now = balance.conversion();
      if (before < CureKinetics.GEL && now >= CureKinetics.GEL) {
        gel = balance.minutes() - step * (now - CureKinetics.GEL) / (now - before);
      }
      if (before < CureKinetics.LEATHERY && now >= CureKinetics.LEATHERY) {
        leathery = balance.minutes();
      }
      before = now;
      if (balance.temperatureC() > peakC) {
        peakC = balance.temperatureC();
        peakMinutes = balance.minutes();
      }
    }
    return new Exotherm(peakC, peakMinutes, gel, Math.min(leathery, peakMinutes), roomC);
  }

  /** The peak, degC, this many standard deviations of the rise from the likely one. */
  public double peakC(double deviations) {
    return roomC + (peakC - roomC) * StrictMath.exp(LN_RISE * deviations);
  }
}
