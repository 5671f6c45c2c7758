package org.layroom.predictor.mix;

import static org.layroom.predictor.limits.Words.minutes;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.cure.Band;
import org.layroom.predictor.cure.ClockInputs;
import org.layroom.predictor.cure.CureClocks;
import org.layroom.predictor.cure.CureFigures;
import org.layroom.predictor.cure.CureShape;
import org.layroom.predictor.cure.MaterialPosterior;
import org.layroom.predictor.cure.PriorSpreads;
import org.layroom.predictor.cure.StageTime;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.hardening.Hardening;
import org.layroom.predictor.hardening.Learned;
import org.layroom.predictor.hardening.PriorHours;
import org.layroom.predictor.heat.Exotherm;
import org.layroom.predictor.limits.ShopLimits;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.Material;

/**
 * One mix question worked out: rules first, then the dose, its rounding, the cups and the clocks.
 * The dose is chosen so that 0.7 of the likely gel time is the working time; gel time and stages
 * follow from the dose after rounding.
 */
final class MixPlan {
  private static final double HOT_CUP_GRAMS = 300;

  private final MixQuestion question;
  private final Material can;
  private final MixFindings judgement = new MixFindings();

  MixPlan(MixQuestion question) {
    this.question = question;
    can = question.material();
  }

  MixAnswer answer() {
    RoomRules room = new RoomRules(question, judgement);
    boolean gelTimeMayBeShown = room.judge();
    if (!gelTimeMayBeShown) {
      return refused(Optional.empty());
    }
    MaterialPosterior belief = question.calibration().belief();
    boolean tooCold = judgement.isRefused();
    // With no dose to give, the gel time is shown for the dose asked for, or else the sheet's.
    MixFindings onDose = tooCold ? new MixFindings() : judgement;
    DoseRules rules = new DoseRules(question, belief, resinC(), onDose);
    OptionalDouble wanted = rules.doseByWeightPct();
    if (wanted.isEmpty() && !tooCold) {
      return refused(Optional.empty());
    }
    double pct = wanted.orElse(can.gel().doseByWeightPct());
    belief = question.bottle().weakened(belief);
    if (room.bottleIsDoubtful()) {
      belief = belief.doubting(PriorSpreads.LN_DOUBTFUL);
    }
    if (pct < can.doseByWeightPct().min()) {
      belief = belief.doubting(PriorSpreads.LN_DOUBTFUL);
    }
    if (tooCold) {
      return refused(Optional.of(CureClocks.gelMinutes(inputs(belief, pct))));
    }
    return mixed(belief, pct);
  }

  private MixAnswer mixed(MaterialPosterior belief, double pct) {
    List<Double> cups = cupGrams(belief, pct);
    Optional<Syringe> rounded = Syringe.round(question, pct, cups.get(0), lowest(pct));
    if (rounded.isEmpty()) {
      judgement.refuse(
          "amount",
          Words.number(cups.get(0), 0) + " g",
          "a dose that the syringe can show",
          "A cup of "
              + Words.number(cups.get(0), 0)
              + " g is too small for marks of "
              + Words.plain(question.tools().syringeStepMl())
              + " ml. Mix more at once, or use a finer syringe.");
      return refused(Optional.empty());
    }
    Syringe syringe = rounded.get();
    ClockInputs inputs = inputs(belief, syringe.doseByWeightPct());
    Band gel = CureClocks.gelMinutes(inputs);
    gelTimeRules(gel.p50());
    if (judgement.isRefused()) {
      return refused(Optional.empty());
    }
    HeatRules rules = heatRules(belief, syringe.doseByWeightPct());
    Optional<HeatOutlook> heat = rules.judge(judgement);
    Exotherm cup = rules.cup(cups.get(0), resinC());
    double likely = belief.likelyGelMinutes(resinC(), syringe.doseByWeightPct());
    double unrounded = belief.likelyGelMinutes(resinC(), pct);
    return new MixAnswer(
        judgement.refused(),
        judgement.warnings(),
        Optional.of(dose(syringe, cups.size(), pct, likely - unrounded)),
        Optional.of(gel),
        OptionalDouble.of(CureFigures.STOP * likely),
        cups(cups, syringe, CureFigures.STOP * gel.p10()),
        stages(inputs, cups),
        Optional.of(DemoldOutlook.of(inputs, question.history())),
        heat,
        Optional.of(Leftover.of(gel, inputs.shape(), cup)),
        question.calibration().words());
  }

  private MixAnswer refused(Optional<Band> gelMinutes) {
    return new MixAnswer(
        judgement.refused(),
        judgement.warnings(),
        Optional.empty(),
        gelMinutes,
        OptionalDouble.empty(),
        List.of(),
        List.of(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        question.calibration().words());
  }

  private void gelTimeRules(double gelMinutes) {
    if (gelMinutes < ShopLimits.SHORTEST_GEL_MINUTES) {
      judgement.refuse(
          "gelMinutes",
          minutes(gelMinutes),
          minutes(ShopLimits.SHORTEST_GEL_MINUTES),
          "It would gel in "
              + minutes(gelMinutes)
              + "; the minimum is 5 min. Use less catalyst, or cool resin and mold.");
    }
    if (gelMinutes > ShopLimits.LONGEST_GEL_MINUTES) {
      judgement.warn(
          "gelMinutes",
          minutes(gelMinutes),
          minutes(ShopLimits.LONGEST_GEL_MINUTES),
          "Wait: it would gel in "
              + minutes(gelMinutes)
              + "; the limit is 90 min. Warm resin and mold first.");
    }
  }

  private double resinC() {
    MixTemperatures temperatures = question.temperatures();
    return temperatures.resin().or(temperatures::mold).orElseThrow().temperatureC();
  }

  private double moldC() {
    MixTemperatures temperatures = question.temperatures();
    return temperatures.mold().or(temperatures::resin).orElseThrow().temperatureC();
  }

  private static double sensorK(boolean known) {
    double borrowed = known ? 0 : PriorSpreads.BORROWED_TEMPERATURE_K;
    return StrictMath.hypot(PriorSpreads.READING_K, borrowed);
  }

  private ClockInputs inputs(MaterialPosterior belief, double pct) {
    HeatRules rules = heatRules(belief, pct);
    CureShape shape = CureShape.of(can).warmed(rules.ownHeat());
    Hardening untaught = can.hardening().thinnest(rules.thinnestMm());
    PriorHours prior = inputs(belief, pct, untaught, shape).priorDemold();
    Learned learned = question.history().learned(can.id(), prior);
    return inputs(belief, pct, untaught.knowing(learned), shape);
  }

  private HeatRules heatRules(MaterialPosterior belief, double pct) {
    return new HeatRules(can, question.pass(), belief, pct, moldC());
  }

  /** The stages of the part count from the last cup, those of a cup from the first. */
  private List<StageTime> stages(ClockInputs inputs, List<Double> cups) {
    double pace = question.tools().paceGramsPerMinute();
    double lastCup = cups.stream().limit(cups.size() - 1).mapToDouble(grams -> grams / pace).sum();
    return CureClocks.stages(inputs).stream()
        .map(stage -> stage.stage().ofThePart() ? stage.later(lastCup) : stage)
        .toList();
  }

  private ClockInputs inputs(
      MaterialPosterior belief, double pct, Hardening hardening, CureShape shape) {
    MixTemperatures temperatures = question.temperatures();
    return new ClockInputs(
        belief,
        can.kind(),
        pct,
        doseSpread(),
        TemperatureOutlook.constant(resinC()),
        sensorK(temperatures.resin().isPresent()),
        temperatures.moldOutlook().orElse(TemperatureOutlook.constant(moldC())),
        sensorK(temperatures.mold().isPresent()),
        hardening,
        shape);
  }

  private double doseSpread() {
    double catalyst =
        can.catalystDensityKgPerL().isPresent() ? 0 : PriorSpreads.UNKNOWN_CATALYST_DENSITY;
    double material = can.densityKgPerL().isPresent() ? 0 : PriorSpreads.UNKNOWN_DENSITY;
    return StrictMath.sqrt(
        PriorSpreads.DOSE * PriorSpreads.DOSE + catalyst * catalyst + material * material);
  }

  /** A dose that a person entered below the can's lowest may stay there. */
  private double lowest(double pct) {
    double lowest = Math.max(can.doseByWeightPct().min(), ShopLimits.LOWEST_DOSE_PCT);
    return pct < lowest ? ShopLimits.LOWEST_DOSE_PCT : lowest;
  }

  /** Equal cups, each used up within the earliest working time at the shop's pace. */
  private List<Double> cupGrams(MaterialPosterior belief, double pct) {
    double grams = question.amount().grams(can);
    double earliest = CureFigures.STOP * CureClocks.gelMinutes(inputs(belief, pct)).p10();
    double hot = Math.max(moldC(), resinC()) > ShopLimits.WARM_GEL_COAT_C ? HOT_CUP_GRAMS : 1e9;
    double largest =
        Math.min(
            Math.min(question.tools().largestCupGrams(), hot),
            earliest * question.tools().paceGramsPerMinute());
    int count = Math.max(1, (int) Math.ceil(grams / largest - 1e-9));
    List<Double> cups = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      cups.add(grams / count);
    }
    return cups;
  }

  private List<Cup> cups(List<Double> grams, Syringe syringe, double earliestMinutes) {
    List<Cup> cups = new ArrayList<>();
    double start = 0;
    for (double each : grams) {
      cups.add(
          new Cup(
              cups.size() + 1,
              each,
              each / can.densityKgPerLOrTypical(),
              syringe.grams(),
              syringe.ml(),
              start,
              start + earliestMinutes));
      start += each / question.tools().paceGramsPerMinute();
    }
    return cups;
  }

  private Dose dose(Syringe syringe, int cups, double unroundedPct, double roundingMinutes) {
    double grams = question.amount().grams(can);
    double ml = grams / can.densityKgPerLOrTypical();
    OptionalDouble catalystMl =
        syringe.ml().isPresent()
            ? OptionalDouble.of(cups * syringe.ml().getAsDouble())
            : OptionalDouble.empty();
    return new Dose(
        syringe.doseByWeightPct(),
        cups * syringe.grams(),
        catalystMl,
        per(catalystMl, 100 / ml),
        per(catalystMl, 1000 / grams),
        grams,
        ml,
        unroundedPct,
        roundingMinutes);
  }

  private static OptionalDouble per(OptionalDouble ml, double factor) {
    return ml.isPresent() ? OptionalDouble.of(ml.getAsDouble() * factor) : ml;
  }
}
