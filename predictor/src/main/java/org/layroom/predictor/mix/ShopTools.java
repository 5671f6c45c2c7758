package org.layroom.predictor.mix;

/**
 * What the shop mixes with and how fast it works. The defaults are common practice, no source.
 *
 * @param syringeStepMl one mark of the syringe, 0.01 to 5 ml
 * @param paceGramsPerMinute how fast a cup is used, 1 to 5000 g/min
 * @param largestCupGrams the largest cup that is mixed at once, 20 to 20,000 g
 */
public record ShopTools(double syringeStepMl, double paceGramsPerMinute, double largestCupGrams) {
  public ShopTools {
    require("syringe mark", syringeStepMl, 0.01, 5, "ml");
    require("pace", paceGramsPerMinute, 1, 5000, "g/min");
    require("largest cup", largestCupGrams, 20, 20_000, "g");
  }

  private static void require(String what, double value, double min, double max, String unit) {
    if (!(value >= min && value <= max)) {
      throw new IllegalArgumentException(
          "%s %s %s must be between %s and %s %s".formatted(what, value, unit, min, max, unit));
    }
  }

  /** A syringe with marks of 0.1 ml, cups up to 1 kg, 100 g used a minute. */
  public static ShopTools usual() {
    return new ShopTools(0.1, 100, 1000);
  }
}
