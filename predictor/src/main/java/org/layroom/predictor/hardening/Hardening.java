package org.layroom.predictor.hardening;

import java.util.List;
import java.util.OptionalDouble;

/**
 * What decides when a part may leave the mold, besides its temperature: the can's own claim, the
 * dose through its gel time, the thinnest place, and what earlier parts taught.
 *
 * @param claimedHoursAt20C what the can's data sheet claims until demold, h at 20 degC, above zero
 * @param thinnestMm the thinnest place of the part: flange, edge or corner; 0 to 100 mm; empty when
 *     not said
 * @param structural whether the part carries load
 * @param learned what outcomes have taught of this can
 */
public record Hardening(
    OptionalDouble claimedHoursAt20C,
    OptionalDouble thinnestMm,
    boolean structural,
    Learned learned) {
  /**
   * 48 h at 18 degC or more after lamination, expressed at 20 degC with 54 kJ/mol: the least that a
   * classification society's workmanship rules ask of a part that carries load.
   */
  public static final double STRUCTURAL_HOURS_AT_20C = 41.2237;

  /** How the time follows the gel time: between 0 and 1 by the chemistry (chosen). */
  public static final double GEL_EXPONENT = 0.7;

  /** The gel time at 20 degC that the median of {@link DemoldBelief} belongs to, min. */
  static final double TYPICAL_GEL_MINUTES = 20;

  /** A part of 3 mm against one of 2 mm or less, and one of 4 mm or more (chosen). */
  private static final double FACTOR_3_MM = 0.8;

  private static final double FACTOR_4_MM = 0.5;

  /** Added spread of the logarithm from 3 mm on (chosen). */
  private static final double THICK_SD_LN = 0.3;

  public Hardening {
    double claimed = claimedHoursAt20C.orElse(1);
    if (!(claimed > 0 && claimed <= 10_000)) {
      throw new IllegalArgumentException(
          "demold target " + claimed + " h at 20 °C must be above 0 and at most 10000");
    }
    double thinnest = thinnestMm.orElse(1);
    if (!(thinnest > 0 && thinnest <= 100)) {
      throw new IllegalArgumentException(
          "thickness " + thinnest + " mm must be above 0 and at most 100 mm");
    }
  }

  /** A thin part without load, of a can that claims nothing and that nothing is known of. */
  public static Hardening typical() {
    return new Hardening(OptionalDouble.empty(), OptionalDouble.empty(), false, Learned.nothing());
  }

  /** With the can's own claim, h at 20 degC. */
  public Hardening claiming(OptionalDouble hoursAt20C) {
    return new Hardening(hoursAt20C, thinnestMm, structural, learned);
  }

  /** With the thinnest place, mm. */
  public Hardening thinnest(OptionalDouble mm) {
    return new Hardening(claimedHoursAt20C, mm, structural, learned);
  }

  /** For a part that carries load, or not. */
  public Hardening carryingLoad(boolean value) {
    return new Hardening(claimedHoursAt20C, thinnestMm, value, learned);
  }

  /** With what the outcomes of a shop's parts have taught of one of its cans. */
  public Hardening taughtBy(List<PartOutcome> parts, String can) {
    return knowing(ShopOutcomes.of(parts).of(can));
  }

  /** With what outcomes have taught. */
  public Hardening knowing(Learned value) {
    return new Hardening(claimedHoursAt20C, thinnestMm, structural, value);
  }

  /**
   * What is believed before anything was learned.
   *
   * @param gelMinutes likely gel time in a cup at 20 degC and this dose, above zero
   * @param sheetGelMinutes the same at the dose of the data sheet, to which its claim belongs
   */
  public PriorHours prior(double gelMinutes, double sheetGelMinutes) {
    boolean claimed = claimedHoursAt20C.isPresent();
    double gelOf = claimed ? sheetGelMinutes : TYPICAL_GEL_MINUTES;
    double lnHours =
        StrictMath.log(claimedHoursAt20C.orElse(DemoldBelief.MEDIAN_HOURS))
            + GEL_EXPONENT * StrictMath.log(gelMinutes / gelOf)
            + StrictMath.log(thicknessFactor());
    return new PriorHours(
        lnHours, claimed ? DemoldBelief.SD_LN_CLAIMED : DemoldBelief.SD_LN, thicknessSdLn());
  }

  /**
   * Likely hours at 20 degC until the part may leave the mold, with all that was learned and with
   * the floor of a part that carries load; arguments as for {@link #prior}.
   */
  public double likelyHours(double gelMinutes, double sheetGelMinutes) {
    double likely = prior(gelMinutes, sheetGelMinutes).with(learned).medianHours();
    return structural ? Math.max(likely, STRUCTURAL_HOURS_AT_20C) : likely;
  }

  /** 1 up to 2 mm, 0.8 at 3 mm, 0.5 from 4 mm on, straight lines between. */
  private double thicknessFactor() {
    double mm = thinnestMm.orElse(0);
    if (mm <= 3) {
      return 1 - (1 - FACTOR_3_MM) * Math.max(0, mm - 2);
    }
    return FACTOR_3_MM - (FACTOR_3_MM - FACTOR_4_MM) * Math.min(1, mm - 3);
  }

  private double thicknessSdLn() {
    return THICK_SD_LN * Math.max(0, Math.min(1, thinnestMm.orElse(0) - 2));
  }

  /** What the demold time rests on, in words. */
  public String restsOn() {
    String start =
        claimedHoursAt20C.isPresent()
            ? "what the can's data sheet claims"
            : "published times for any can, 3 to 48 h";
    return start + "; " + learned.words();
  }
}
