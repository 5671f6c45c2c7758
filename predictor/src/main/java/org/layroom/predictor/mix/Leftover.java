package org.layroom.predictor.mix;

import org.layroom.predictor.cure.Band;
import org.layroom.predictor.cure.CureShape;
import org.layroom.predictor.heat.Exotherm;
import org.layroom.predictor.limits.Words;

/**
 * What is left in the cup: from gel to its late peak it is hot.
 *
 * @param fromMinutes gel in the cup, minutes after mixing
 * @param untilMinutes when it is hottest, minutes after mixing: from then on it cools
 * @param peakC its likely hottest when all of the cup is left, degC (published cups of 100 g: 110
 *     to 165 degC)
 * @param words what to do with it, and by when
 */
public record Leftover(Band fromMinutes, Band untilMinutes, double peakC, String words) {
  private static final double Z90 = 1.2815515655446004;

  static Leftover of(Band gel, CureShape shape, Exotherm cup) {
    double early = edge(gel.p50() / gel.p10(), shape);
    double late = edge(gel.p90() / gel.p50(), shape);
    double likely = gel.p50() * shape.likelyRatio();
    Band peak = new Band(likely / early, likely, likely * late);
    String words =
        "Leftover mix: put it outdoors, in a shallow tray or under water, before "
            + Words.minutes(gel.p10())
            + ". In the cup it is hot until about "
            + Words.minutes(peak.p90())
            + " and may reach about "
            + Words.number(10 * Math.rint(cup.peakC() / 10), 0)
            + " °C.";
    return new Leftover(gel, peak, cup.peakC(), words);
  }

  /** The spreads of gel and of peak over gel together. */
  private static double edge(double gelFactor, CureShape shape) {
    return StrictMath.exp(StrictMath.hypot(StrictMath.log(gelFactor), Z90 * shape.lnSpread()));
  }
}
