package org.layroom.predictor.limits;

/** Refuses numbers outside their range, in one form of words for the person in the shop. */
public final class RangeCheck {
  private RangeCheck() {}

  /** The value when it lies in the range. */
  public static double within(String what, double value, double least, double most, String unit) {
    if (!(value >= least && value <= most)) {
      throw new IllegalArgumentException(
          "%s %s must be between %s and %s"
              .formatted(what, withUnit(value, unit), plain(least), withUnit(most, unit)));
    }
    return value;
  }

  /** The value when it is above zero and at most the other. */
  public static double positive(String what, double value, double most, String unit) {
    if (!(value > 0 && value <= most)) {
      throw new IllegalArgumentException(
          "%s %s must be above 0 and at most %s"
              .formatted(what, withUnit(value, unit), withUnit(most, unit)));
    }
    return value;
  }

  private static String withUnit(double value, String unit) {
    return (plain(value) + " " + unit).strip();
  }

  private static String plain(double value) {
    return value == Math.rint(value) && Math.abs(value) < 1e12
        ? Long.toString((long) value)
        : Double.toString(value);
  }
}
