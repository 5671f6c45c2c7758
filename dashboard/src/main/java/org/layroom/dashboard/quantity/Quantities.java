package org.layroom.dashboard.quantity;

import java.math.BigDecimal;
import java.time.Duration;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.layroom.predictor.mix.Amount;
import org.layroom.predictor.mix.DoseRequest;

/**
 * Parses figures with units: {@code 18C}, {@code 64F}, {@code 62%}, {@code 200ml}, {@code 15min}.
 * All throw {@link IllegalArgumentException} with what to write instead.
 */
public final class Quantities {
  private static final Pattern FIGURE =
      Pattern.compile("\\s*([+-]?(?:\\d+(?:\\.\\d*)?|\\.\\d+))\\s*(.*?)\\s*");

  private static final double GRAMS_IN_OUNCE = 28.349523125;
  private static final double GRAMS_IN_POUND = 453.59237;
  private static final double ML_IN_US_FLUID_OUNCE = 29.5735295625;
  private static final double M2_IN_SQUARE_FOOT = 0.09290304;
  private static final double M3_IN_CUBIC_FOOT = 0.028316846592;
  private static final double MM_IN_MIL = 0.0254;

  private Quantities() {}

  private record Figure(double value, String unit) {
    static Figure parse(String text, String wanted) {
      Matcher matcher = FIGURE.matcher(text);
      if (text.length() > 40 || !matcher.matches()) {
        throw refused(text, wanted);
      }
      return new Figure(
          new BigDecimal(matcher.group(1)).doubleValue(),
          matcher.group(2).toLowerCase(Locale.ROOT).replace(" ", ""));
    }
  }

  private static IllegalArgumentException refused(String text, String wanted) {
    return new IllegalArgumentException("\"" + text + "\": enter " + wanted);
  }

  private static double convert(String text, String wanted, Map<String, Double> factors) {
    Figure figure = Figure.parse(text, wanted);
    Double factor = factors.get(figure.unit());
    if (factor == null) {
      throw refused(text, wanted);
    }
    return figure.value() * factor;
  }

  /** A temperature in degC, from {@code 18C}, {@code 18} or {@code 64.4F}. */
  public static double celsius(String text) {
    String wanted = "a temperature such as 18C or 64F";
    Figure figure = Figure.parse(text, wanted);
    return switch (figure.unit()) {
      case "", "c", "°c", "degc" -> figure.value();
      case "f", "°f", "degf" -> (figure.value() - 32) / 1.8;
      default -> throw refused(text, wanted);
    };
  }

  /** A percentage, from {@code 62%} or {@code 62}. */
  public static double percent(String text) {
    return convert(text, "a percentage such as 62%", Map.of("", 1.0, "%", 1.0));
  }

  /** A time span of zero or more, from {@code 15min}, {@code 90s}, {@code 1.5h} or {@code 2d}. */
  public static Duration span(String text) {
    String wanted = "a time span such as 15min, 90s, 2h or 30d";
    double seconds =
        convert(text, wanted, Map.of("s", 1.0, "min", 60.0, "m", 60.0, "h", 3600.0, "d", 86_400.0));
    if (!(seconds >= 0 && seconds <= 1e9)) {
      throw refused(text, wanted);
    }
    return Duration.ofMillis(Math.round(seconds * 1000));
  }

  /** An amount of resin or gel coat, by volume or by weight. */
  public static Amount amount(String text) {
    String wanted = "an amount such as 200ml, 0.5kg or 7oz (floz for fluid ounces)";
    Figure figure = Figure.parse(text, wanted);
    double value = figure.value();
    return switch (figure.unit()) {
      case "ml" -> new Amount.Milliliters(value);
      case "l" -> new Amount.Milliliters(value * 1000);
      case "floz" -> new Amount.Milliliters(value * ML_IN_US_FLUID_OUNCE);
      case "g" -> new Amount.Grams(value);
      case "kg" -> new Amount.Grams(value * 1000);
      case "oz" -> new Amount.Grams(value * GRAMS_IN_OUNCE);
      case "lb" -> new Amount.Grams(value * GRAMS_IN_POUND);
      default -> throw refused(text, wanted);
    };
  }

  /** A weight in kg. */
  public static double kilograms(String text) {
    return convert(
        text,
        "a weight such as 2kg, 500g or 4lb",
        Map.of("kg", 1.0, "g", 0.001, "lb", GRAMS_IN_POUND / 1000, "oz", GRAMS_IN_OUNCE / 1000));
  }

  /** A dose: {@code 1.2%} by weight, {@code 12ml/kg}, {@code 1ml/100ml}; drops are passed on. */
  public static DoseRequest dose(String text) {
    String wanted = "a dose such as 1.2% (by weight), 12ml/kg or 1ml/100ml";
    Figure figure = Figure.parse(text, wanted);
    double value = figure.value();
    return switch (figure.unit()) {
      case "%" -> new DoseRequest.ByWeight(value);
      case "ml/kg" -> new DoseRequest.MlPerKg(value);
      case "ml/100ml" -> new DoseRequest.MlPer100Ml(value);
      case "drop", "drops" -> new DoseRequest.Drops(value);
      default -> throw refused(text, wanted);
    };
  }

  /** A dose in % by weight and nothing else. */
  public static double dosePct(String text) {
    return convert(text, "a dose such as 1.5% (by weight)", Map.of("%", 1.0));
  }

  /** A volume in ml. */
  public static double milliliters(String text) {
    return convert(text, "a volume such as 0.1ml", Map.of("ml", 1.0));
  }

  /** An area in m2. */
  public static double squareMeters(String text) {
    return convert(
        text,
        "an area such as 0.8m2 or 9ft2",
        Map.of("m2", 1.0, "m²", 1.0, "ft2", M2_IN_SQUARE_FOOT, "sqft", M2_IN_SQUARE_FOOT));
  }

  /** A room's volume in m3. */
  public static double cubicMeters(String text) {
    return convert(
        text,
        "a volume such as 40m3 or 1400ft3",
        Map.of("m3", 1.0, "m³", 1.0, "ft3", M3_IN_CUBIC_FOOT));
  }

  /** Air changes per hour, from {@code 6} or {@code 6/h}. */
  public static double perHour(String text) {
    return convert(text, "air changes per hour such as 6", Map.of("", 1.0, "/h", 1.0));
  }

  /** A fan's flow in m3/h. */
  public static double cubicMetersPerHour(String text) {
    return convert(
        text,
        "a flow such as 300m3/h or 180cfm",
        Map.of("m3/h", 1.0, "m³/h", 1.0, "cfm", 60 * M3_IN_CUBIC_FOOT));
  }

  /** The air flow around the work in m3/min. */
  public static double cubicMetersPerMinute(String text) {
    return convert(text, "a flow such as 5m3/min", Map.of("m3/min", 1.0, "m³/min", 1.0, "", 1.0));
  }

  /** A concentration in ppm. */
  public static double ppm(String text) {
    return convert(text, "a concentration such as 20ppm", Map.of("ppm", 1.0, "", 1.0));
  }

  /** A film thickness in mm. */
  public static double millimeters(String text) {
    return convert(text, "a thickness such as 0.5mm or 20mil", Map.of("mm", 1.0, "mil", MM_IN_MIL));
  }

  /** A mat's weight in g/m2. */
  public static double gramsPerSquareMeter(String text) {
    return convert(
        text,
        "a mat weight such as 450g/m2 or 1.5oz/ft2",
        Map.of("g/m2", 1.0, "g/m²", 1.0, "oz/ft2", GRAMS_IN_OUNCE / M2_IN_SQUARE_FOOT));
  }

  /** A plain number. */
  public static double number(String text) {
    return convert(text, "a number", Map.of("", 1.0));
  }

  /** A whole number from 0 to 1000. */
  public static int count(String text) {
    double value = convert(text, "a whole number", Map.of("", 1.0));
    if (value != Math.rint(value) || value < 0 || value > 1000) {
      throw refused(text, "a whole number from 0 to 1000");
    }
    return (int) value;
  }
}
