package org.layroom.predictor.calibration;

import org.layroom.predictor.cure.ArrheniusRate;
import org.layroom.predictor.cure.MaterialPosterior;
import org.layroom.predictor.cure.PriorSpreads;

/**
 * A gel time that a person has taken. A cup shows when a stick no longer leaves a mark; a thin
 * layer on a scrap shows what the film on the mold will do.
 *
 * @param where in a cup or in a thin layer
 * @param temperatureC of the cup or of the layer, 5 to 40 degC
 * @param doseByWeightPct 0.5 to 4 % by weight
 * @param minutes until gel, 1 to 1440 min
 * @param timingMinutes how far the minutes may be off because the gel was told afterwards, as a
 *     standard deviation, 0 to 240 min
 */
public record GelTest(
    Where where,
    double temperatureC,
    double doseByWeightPct,
    double minutes,
    double timingMinutes) {
  /** Where the gel was seen. */
  public enum Where {
    CUP,
    THIN_LAYER
  }

  /** What gels sooner was no gel test. */
  public static final double SHORTEST_MINUTES = 1;

  /** What gels later was none either. */
  public static final double LONGEST_MINUTES = 1440;

  /** A test that was watched. */
  public GelTest(Where where, double temperatureC, double doseByWeightPct, double minutes) {
    this(where, temperatureC, doseByWeightPct, minutes, 0);
  }

  public GelTest {
    require("temperature", temperatureC, 5, 40, "degC");
    require("dose", doseByWeightPct, 0.5, 4, "% by weight");
    require("gel time", minutes, SHORTEST_MINUTES, LONGEST_MINUTES, "min");
    require("spread of the gel time", timingMinutes, 0, 240, "min");
  }

  private static void require(String what, double value, double min, double max, String unit) {
    if (!(value >= min && value <= max)) {
      throw new IllegalArgumentException(
          "gel test: %s %s %s must be between %s and %s %s"
              .formatted(what, value, unit, min, max, unit));
    }
  }

  boolean film() {
    return where == Where.THIN_LAYER;
  }

  /**
   * Standard deviation of the logarithm of this test's gel time for a known can: the stick, when it
   * was told, what is new in one temperature reading, and one measured dose.
   */
  double sdLn(MaterialPosterior belief) {
    return StrictMath.hypot(
        sdLn(belief.sheetEa(), belief.sheetDoseExponent(), temperatureC), timingMinutes / minutes);
  }

  static double sdLn(double Ea, double doseExponent, double temperatureC) {
    double sensor =
        PriorSpreads.READING_K * new ArrheniusRate(Ea, temperatureC).slope(temperatureC, 1);
    double dose = doseExponent * PriorSpreads.DOSE;
    double stick = PriorSpreads.LN_STICK_TEST;
    return StrictMath.sqrt(stick * stick + sensor * sensor + dose * dose);
  }
}
