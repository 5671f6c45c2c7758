package org.layroom.predictor.mix;

import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.cure.CureFigures;
import org.layroom.predictor.cure.CureShape;
import org.layroom.predictor.cure.MaterialPosterior;
import org.layroom.predictor.heat.CureKinetics;
import org.layroom.predictor.heat.Exotherm;
import org.layroom.predictor.heat.Laminate;
import org.layroom.predictor.limits.ShopLimits;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;

/**
 * The heat of one pass, and what it is a reason for: judged by the likely peak, not by the number
 * of layers. The likely gel time of the can is taken as isothermal; where a data sheet's cup warmed
 * itself the true peak is a few degrees lower.
 */
final class HeatRules {
  /** From this thickness on the laminate's own heat closes the trim window (chosen). */
  private static final double OWN_HEAT_MM = 4;

  private static final double LEAST_MM = 0.3;
  private static final int BISECTIONS = 10;

  private final Pass pass;
  private final Optional<Laminate> laminate;
  private final CureKinetics resin;
  private final double moldC;
  private final double gelMinutes;

  HeatRules(Material can, Pass pass, MaterialPosterior belief, double pct, double moldC) {
    this.pass = pass;
    this.moldC = moldC;
    laminate = can.kind() == MaterialKind.LAMINATING_RESIN ? pass.laid() : Optional.empty();
    resin = kinetics(can, belief, pct);
    gelMinutes = belief.likelyGelMinutes(moldC, pct);
  }

  private static CureKinetics kinetics(Material can, MaterialPosterior belief, double pct) {
    double gel = belief.likelyGelMinutes(CureFigures.HOURS_REFERENCE_C, pct);
    return can.peakToGel().isPresent()
        ? CureKinetics.ofRatio(can.peakToGel().getAsDouble(), gel)
        : new CureKinetics(CureKinetics.USUAL_PHI, gel);
  }

  /** The thinnest place, mm, where it is known. */
  OptionalDouble thinnestMm() {
    return laminate.isPresent()
        ? OptionalDouble.of(laminate.get().thinnestMm())
        : OptionalDouble.empty();
  }

  /** Trim and peak of a laminate that warms itself; empty for a thin or an unknown one. */
  Optional<CureShape.OwnHeat> ownHeat() {
    return laminate
        .filter(laid -> laid.thickestMm() >= OWN_HEAT_MM)
        .map(this::exotherm)
        .map(
            heat ->
                new CureShape.OwnHeat(
                    heat.leatheryMinutes() / gelMinutes, heat.peakMinutes() / gelMinutes));
  }

  private Exotherm exotherm(Laminate laid) {
    return Exotherm.ofLaminate(resin, laid, pass.mold(), moldC);
  }

  /** What is left of a cup, g, left standing at the temperature of the resin. */
  Exotherm cup(double grams, double resinC) {
    return Exotherm.ofCup(resin, Math.max(10, Math.min(20_000, grams)), resinC);
  }

  /** How hot it gets, with a reason to wait where that is too hot; empty when nothing was said. */
  Optional<HeatOutlook> judge(MixFindings judgement) {
    if (laminate.isEmpty()) {
      return Optional.empty();
    }
    HeatOutlook heat = HeatOutlook.of(exotherm(laminate.get()), laminate.get(), pass.mold());
    double likely = heat.peakC().p50();
    if (likely >= ShopLimits.HOT_LAMINATE_C) {
      warn(
          judgement,
          heat,
          ShopLimits.HOT_LAMINATE_C,
          "Wait: do not lay this in one pass. " + heat.words() + " " + advice(laminate.get()));
    } else if (likely >= ShopLimits.WARM_LAMINATE_C) {
      warn(
          judgement,
          heat,
          ShopLimits.WARM_LAMINATE_C,
          "Wait: this gets too hot for mold and surface. "
              + heat.words()
              + " "
              + advice(laminate.get()));
    }
    return Optional.of(heat);
  }

  private static void warn(MixFindings judgement, HeatOutlook heat, double limitC, String words) {
    judgement.warn(
        "peakC", HeatOutlook.degrees(heat.peakC().p50()), HeatOutlook.degrees(limitC), words);
  }

  private String advice(Laminate laid) {
    double most = mostMm(laid);
    return most < LEAST_MM
        ? "Use less catalyst, or cool the room."
        : "Lay at most "
            + Words.number(most, 1)
            + " mm at once, or use less catalyst, and let it set and cool in between.";
  }

  /** The thickest pass that likely stays under the limit, mm, rounded down to 0.1. */
  private double mostMm(Laminate laid) {
    double low = 0;
    double high = laid.thickestMm();
    for (int i = 0; i < BISECTIONS; i++) {
      double middle = (low + high) / 2;
      Laminate tried = new Laminate(middle, middle, laid.glassShare());
      if (exotherm(tried).peakC() < ShopLimits.WARM_LAMINATE_C) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return Math.floor(10 * low) / 10;
  }
}
