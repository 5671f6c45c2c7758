package org.layroom.predictor.hardening;

/**
 * How hard a part was at an age: by hand, or on a Barcol tester.
 *
 * <p>Ages are equivalent hours at 20 degC, above zero.
 */
public sealed interface HardnessSeen {
  /** The age of the part, equivalent hours at 20 degC. */
  double hours();

  /**
   * Judged hard or soft.
   *
   * @param hours age, equivalent hours at 20 degC, above zero
   * @param hard whether it was hard enough to leave the mold
   * @param sdLn how far people and places differ in what they call hard, as a standard deviation of
   *     the logarithm of the age, above zero
   */
  record Judged(double hours, boolean hard, double sdLn) implements HardnessSeen {
    public Judged {
      require("age", hours);
      require("spread of a judgment", sdLn);
    }
  }

  /**
   * Judged by a number that grows with the logarithm of the age.
   *
   * @param hours age, equivalent hours at 20 degC, above zero
   * @param lnDemoldHours the logarithm of the demold time that the number stands for
   * @param sdLn standard deviation of that, above zero
   */
  record Measured(double hours, double lnDemoldHours, double sdLn) implements HardnessSeen {
    public Measured {
      require("age", hours);
      require("spread of a measurement", sdLn);
    }
  }

  private static void require(String what, double value) {
    if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(what + " " + value + " must be above 0");
    }
  }
}
