package org.layroom.predictor.mix;

import static org.layroom.predictor.limits.Words.celsius;
import static org.layroom.predictor.limits.Words.minutes;
import static org.layroom.predictor.limits.Words.number;
import static org.layroom.predictor.limits.Words.percent;

import java.util.OptionalDouble;
import org.layroom.predictor.cure.ArrheniusRate;
import org.layroom.predictor.cure.CureFigures;
import org.layroom.predictor.cure.MaterialPosterior;
import org.layroom.predictor.limits.ShopLimits;
import org.layroom.predictor.material.DoseRange;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;
import org.layroom.predictor.material.TemperatureRange;

/**
 * From what a person wants to a dose by weight, or to a reason against it. One gel test moves a
 * dose by at most 15 %, however far off it was: a mistaken tap must not, and a true change shows
 * again in the next test. Only the dose is held; the clocks follow every test at once.
 */
final class DoseRules {
  /** The most that one gel test moves a dose (chosen). */
  private static final double MOST_CHANGE = 1.15;

  /**
   * Gel coat stays near the middle of its range, so much of the way from its lowest to its highest
   * dose: a little more, and a warmer mold, is common practice (chosen).
   */
  private static final double GEL_COAT_SHARE = 0.6;

  private static final double SAME = 1e-9;

  private final MixQuestion question;
  private final MaterialPosterior belief;
  private final double resinC;
  private final MixFindings judgement;

  DoseRules(MixQuestion question, MaterialPosterior belief, double resinC, MixFindings judgement) {
    this.question = question;
    this.belief = belief;
    this.resinC = resinC;
    this.judgement = judgement;
  }

  /** The dose before rounding, % by weight; empty when it is refused. */
  OptionalDouble doseByWeightPct() {
    DoseRequest want = question.want();
    if (want instanceof DoseRequest.WorkingTime time) {
      return forWorkingTime(time.minutes());
    }
    if (want instanceof DoseRequest.ByWeight byWeight) {
      return entered(byWeight.pct(), percent(byWeight.pct()));
    }
    if (want instanceof DoseRequest.MlPerKg perKg) {
      double pct = perKg.ml() * question.material().catalystDensityKgPerLOrTypical() / 10;
      return enteredInMl(pct, number(perKg.ml(), 1) + " ml per kg");
    }
    if (want instanceof DoseRequest.MlPer100Ml per100) {
      Material can = question.material();
      double pct =
          per100.ml() * can.catalystDensityKgPerLOrTypical() / can.densityKgPerLOrTypical();
      return enteredInMl(pct, number(per100.ml(), 1) + " ml per 100 ml");
    }
    if (want instanceof DoseRequest.Drops drops) {
      judgement.refuse(
          "dose",
          number(drops.drops(), 0) + " drops",
          "ml, grams or %",
          "Layroom does not count drops: a milliliter is 13 to 34 of them. Use a syringe or a"
              + " scale.");
      return OptionalDouble.empty();
    }
    return asOnTheSheet();
  }

  private OptionalDouble asOnTheSheet() {
    DoseRange can = question.material().doseByWeightPct();
    double pct = held(question.material().gel().minutes());
    double most = can.max();
    if (question.material().kind() == MaterialKind.GEL_COAT) {
      most = lowest(can) + GEL_COAT_SHARE * (can.max() - lowest(can));
      if (pct > most) {
        judgement.warn(
            "dose",
            percent(most),
            "the middle of the can's range",
            "It gels later than the data sheet says. Warm the mold"
                + (sheetC(most) <= Math.min(ShopLimits.WARM_GEL_COAT_C, range().max())
                    ? " to " + celsius(sheetC(most))
                    : "")
                + " rather than adding catalyst.");
      }
    }
    return OptionalDouble.of(Math.max(lowest(can), Math.min(most, pct)));
  }

  /** Where this dose gives the gel time of the data sheet, degC. */
  private double sheetC(double pct) {
    return temperatureFor(CureFigures.STOP * question.material().gel().minutes(), pct);
  }

  /** The dose for a gel time, moved by each gel test by so much and no more, % by weight. */
  private double held(double gelMinutes) {
    double held = Double.NaN;
    for (MaterialPosterior known : question.calibration().beliefs()) {
      double pct = known.likelyDosePct(resinC, gelMinutes);
      held =
          Double.isNaN(held)
              ? pct
              : Math.max(held / MOST_CHANGE, Math.min(held * MOST_CHANGE, pct));
    }
    double pct = belief.likelyDosePct(resinC, gelMinutes);
    if (Math.abs(held / pct - 1) > SAME) {
      judgement.warn(
          "gelTests",
          percent(pct),
          "at most 15 % a test",
          "The gel tests ask for "
              + percent(pct)
              + ". One test moves the dose by at most 15 %, to "
              + percent(held)
              + ": was it taken in time? Test again. The times are those of this dose.");
    }
    return held;
  }

  private static double lowest(DoseRange can) {
    return Math.max(can.min(), ShopLimits.LOWEST_DOSE_PCT);
  }

  private OptionalDouble enteredInMl(double pct, String asked) {
    boolean known =
        question.material().catalystDensityKgPerL().isPresent()
            || question.bottle().gelTest() == CatalystBottle.Tested.GELLED;
    if (!known) {
      judgement.refuse(
          "dose",
          asked,
          "a known catalyst density",
          "A dose in ml needs the density of the catalyst (1.02 to 1.18 kg/l, on the bottle),"
              + " or a gel test with the same bottle. Read the bottle, or weigh the catalyst.");
      return OptionalDouble.empty();
    }
    return entered(pct, asked);
  }

  private OptionalDouble entered(double pct, String asked) {
    DoseRange can = question.material().doseByWeightPct();
    String value = asked.equals(percent(pct)) ? asked : asked + ", " + percent(pct) + " by weight";
    if (pct < ShopLimits.LOWEST_DOSE_PCT) {
      judgement.refuse(
          "dose",
          value,
          percent(ShopLimits.LOWEST_DOSE_PCT),
          "Too little catalyst: " + value + ", minimum 0.8 %. It may never harden: use more.");
      return OptionalDouble.empty();
    }
    if (pct > can.max()) {
      judgement.refuse(
          "dose",
          value,
          percent(can.max()),
          "Too much catalyst: "
              + value
              + "; the can's limit is "
              + percent(can.max())
              + ". Use less, and warm the room instead.");
      return OptionalDouble.empty();
    }
    if (pct < can.min()) {
      judgement.warn(
          "dose",
          value,
          percent(can.min()),
          value
              + " is low and hardens slowly. The can asks for at least "
              + percent(can.min())
              + ".");
    }
    return OptionalDouble.of(pct);
  }

  private OptionalDouble forWorkingTime(double wanted) {
    DoseRange can = question.material().doseByWeightPct();
    double pct = held(wanted / CureFigures.STOP);
    if (pct > can.max()) {
      judgement.refuse(
          "workingTime",
          minutes(wanted),
          "at least " + minutes(workingMinutes(can.max())) + " at " + celsius(resinC),
          "Even the can's highest dose of "
              + percent(can.max())
              + " gives "
              + minutes(workingMinutes(can.max()))
              + " at "
              + celsius(resinC)
              + ". "
              + warmer(wanted, can.max())
              + "choose at least that working time.");
      return OptionalDouble.empty();
    }
    double lowest = lowest(can);
    if (pct < lowest) {
      judgement.refuse(
          "workingTime",
          minutes(wanted),
          "at most " + minutes(workingMinutes(lowest)) + " at " + celsius(resinC),
          "Even the can's lowest dose of "
              + percent(lowest)
              + " gives only "
              + minutes(workingMinutes(lowest))
              + " at "
              + celsius(resinC)
              + ". "
              + cooler(wanted, lowest)
              + "mix smaller cups and use each within that time, or divide the mold.");
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(pct);
  }

  private double workingMinutes(double pct) {
    return CureFigures.STOP * belief.likelyGelMinutes(resinC, pct);
  }

  private String warmer(double wanted, double pct) {
    double neededC = temperatureFor(wanted, pct);
    double limit = Math.min(ShopLimits.HOTTEST_C, range().max());
    return neededC <= limit
        ? "Warm it to " + celsius(neededC) + ", or "
        : "Prepare the mold first and ";
  }

  private String cooler(double wanted, double pct) {
    double neededC = temperatureFor(wanted, pct);
    double limit = Math.max(ShopLimits.COLDEST_DOSE_C, range().min());
    return neededC >= limit ? "Cool it to " + celsius(neededC) + ", " : "Cooling is not enough: ";
  }

  private TemperatureRange range() {
    return question.material().temperatureCOrTypical();
  }

  /** Where this dose would give the wanted working time, degC. */
  private double temperatureFor(double wanted, double pct) {
    double lnTime = StrictMath.log(wanted / workingMinutes(pct));
    double perEa = lnTime * ArrheniusRate.R / (1000 * belief.likelyEa());
    double inverse = 1 / (resinC + ArrheniusRate.ZERO_C_IN_K) + perEa;
    return 1 / inverse - ArrheniusRate.ZERO_C_IN_K;
  }
}
