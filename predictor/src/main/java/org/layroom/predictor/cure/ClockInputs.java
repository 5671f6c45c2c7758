package org.layroom.predictor.cure;

import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.hardening.DemoldBelief;
import org.layroom.predictor.hardening.Hardening;
import org.layroom.predictor.hardening.PriorHours;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;

/**
 * Everything that the clocks of one cup run on.
 *
 * @param belief what is believed about the can
 * @param kind what it is used for: it decides which stages there are
 * @param doseByWeightPct the dose as mixed, % by weight, above 0 and at most 10
 * @param doseSpread relative standard deviation of the dose, 0 to 0.5
 * @param resin temperature of what is in the cup
 * @param resinSensorK standard deviation of that temperature, K, zero or more
 * @param mold temperature of the mold surface
 * @param moldSensorK standard deviation of that temperature, K, zero or more
 * @param hardening what decides when the part may leave the mold
 * @param shape how the can goes on after gel
 */
public record ClockInputs(
    MaterialPosterior belief,
    MaterialKind kind,
    double doseByWeightPct,
    double doseSpread,
    TemperatureOutlook resin,
    double resinSensorK,
    TemperatureOutlook mold,
    double moldSensorK,
    Hardening hardening,
    CureShape shape) {
  public ClockInputs {
    require("dose", doseByWeightPct, Double.MIN_VALUE, 10, "% by weight");
    require("dose spread", doseSpread, 0, 0.5, "");
    require("spread of the resin temperature", resinSensorK, 0, 10, "K");
    require("spread of the mold temperature", moldSensorK, 0, 10, "K");
  }

  /** With the usual shape after gel. */
  public ClockInputs(
      MaterialPosterior belief,
      MaterialKind kind,
      double doseByWeightPct,
      double doseSpread,
      TemperatureOutlook resin,
      double resinSensorK,
      TemperatureOutlook mold,
      double moldSensorK,
      Hardening hardening) {
    this(
        belief,
        kind,
        doseByWeightPct,
        doseSpread,
        resin,
        resinSensorK,
        mold,
        moldSensorK,
        hardening,
        CureShape.usual());
  }

  /**
   * The inputs of a job as a shop usually has them: one sensor on the resin, one on the mold, a
   * dose measured with a syringe.
   *
   * @param material the can
   * @param belief what its data sheet and gel tests say
   * @param doseByWeightPct the dose as mixed, % by weight
   * @param resin temperature of what is in the cup
   * @param mold temperature of the mold: what was measured, and the forecast from there
   */
  public static ClockInputs forJob(
      Material material,
      MaterialPosterior belief,
      double doseByWeightPct,
      TemperatureOutlook resin,
      TemperatureOutlook mold) {
    return forJob(material, belief, doseByWeightPct, resin, mold, material.hardening());
  }

  /**
   * The same for a part that more is known of than what the can says.
   *
   * @param hardening what decides when the part may leave the mold
   */
  public static ClockInputs forJob(
      Material material,
      MaterialPosterior belief,
      double doseByWeightPct,
      TemperatureOutlook resin,
      TemperatureOutlook mold,
      Hardening hardening) {
    return new ClockInputs(
        belief,
        material.kind(),
        doseByWeightPct,
        PriorSpreads.DOSE,
        resin,
        PriorSpreads.READING_K,
        mold,
        PriorSpreads.READING_K,
        hardening,
        CureShape.of(material));
  }

  /** The same with the thinnest place of the part, mm, and the heat of a laminate of its own. */
  public ClockInputs laid(OptionalDouble thinnestMm, Optional<CureShape.OwnHeat> ownHeat) {
    return new ClockInputs(
        belief,
        kind,
        doseByWeightPct,
        doseSpread,
        resin,
        resinSensorK,
        mold,
        moldSensorK,
        hardening.thinnest(thinnestMm),
        shape.warmed(ownHeat));
  }

  /**
   * What is believed of the hours at 20 degC until this part may leave the mold, before anything
   * was learned in this shop. The gel time counts at its likely value: the published spread of
   * demold times holds the spread of cans already.
   */
  public PriorHours priorDemold() {
    double at20 = CureFigures.HOURS_REFERENCE_C;
    return hardening.prior(
        belief.likelyGelMinutes(at20, doseByWeightPct),
        belief.likelyGelMinutes(at20, belief.referenceDosePct()));
  }

  /** Likely hours at 20 degC until this part may leave the mold, with all that is known. */
  public double likelyDemoldHours() {
    double at20 = CureFigures.HOURS_REFERENCE_C;
    return hardening.likelyHours(
        belief.likelyGelMinutes(at20, doseByWeightPct),
        belief.likelyGelMinutes(at20, belief.referenceDosePct()));
  }

  /** What is believed of those hours with what was learned. */
  public DemoldBelief demold() {
    return priorDemold().with(hardening.learned());
  }

  private static void require(String what, double value, double min, double max, String unit) {
    if (!(value >= min && value <= max)) {
      throw new IllegalArgumentException(
          (what + " " + value + " " + unit).strip()
              + " must be "
              + (min > 0 ? "above 0" : "zero or more")
              + " and at most "
              + max);
    }
  }
}
