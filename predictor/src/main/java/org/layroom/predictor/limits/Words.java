package org.layroom.predictor.limits;

import java.util.Locale;

/** Numbers with their units as sentences show them: the same digits in every locale. */
public final class Words {
  private Words() {}

  /** A temperature in degC to one decimal: {@code 8.2 °C}. */
  public static String celsius(double temperatureC) {
    return number(temperatureC, 1) + " °C";
  }

  /** A limit in degC without needless decimals: {@code 10 °C}. */
  public static String celsiusLimit(double temperatureC) {
    return plain(temperatureC) + " °C";
  }

  /** A temperature difference, given in K, to one decimal: {@code 2.4 °C}. */
  public static String celsiusDifference(double differenceK) {
    return number(differenceK, 1) + " °C";
  }

  /** A percentage without needless decimals: {@code 62 %}, {@code 0.94 %}. */
  public static String percent(double pct) {
    return plain(pct) + " %";
  }

  /** Minutes as a person says them: {@code 4.2 min}, {@code 27 min}. */
  public static String minutes(double minutes) {
    return (minutes < 10 ? number(minutes, 1) : number(minutes, 0)) + " min";
  }

  /** A number to at most two decimals, without trailing zeros. */
  public static String plain(double value) {
    String two = number(value, 2);
    String cut = two.contains(".") ? two.replaceAll("0+$", "").replaceAll("\\.$", "") : two;
    return cut.equals("-0") ? "0" : cut;
  }

  /** A number to the given decimals, with a point whatever the locale. */
  public static String number(double value, int decimals) {
    return String.format(Locale.ROOT, "%." + decimals + "f", value);
  }
}
