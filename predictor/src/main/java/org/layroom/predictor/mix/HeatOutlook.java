package org.layroom.predictor.mix;

import org.layroom.predictor.cure.Band;
import org.layroom.predictor.heat.Exotherm;
import org.layroom.predictor.heat.Laminate;
import org.layroom.predictor.heat.MoldKind;
import org.layroom.predictor.limits.Words;

/**
 * How hot the laminate gets.
 *
 * @param peakC its hottest, degC
 * @param peakMinutes likely minutes after mixing
 * @param thickestMm thickest place, mm
 * @param words one sentence
 */
public record HeatOutlook(Band peakC, double peakMinutes, double thickestMm, String words) {
  private static final double Z90 = 1.2815515655446004;

  static HeatOutlook of(Exotherm heat, Laminate laminate, MoldKind mold) {
    Band peakC = new Band(heat.peakC(-Z90), heat.peakC(), heat.peakC(Z90));
    String words =
        Words.number(laminate.thickestMm(), 1)
            + " mm in one pass on a "
            + mold.words()
            + ": hottest likely "
            + degrees(peakC.p50())
            + " after "
            + Words.minutes(heat.peakMinutes())
            + ", at worst "
            + degrees(peakC.p90())
            + ".";
    return new HeatOutlook(peakC, heat.peakMinutes(), laminate.thickestMm(), words);
  }

  static String degrees(double tempC) {
    return Words.number(tempC, 0) + " °C";
  }
}
