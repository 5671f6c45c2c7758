package org.layroom.dashboard.cli;

import java.math.BigDecimal;
import java.time.Duration;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.TypeConversionException;

/**
 * Figures with units as people type them: {@code 18C}, {@code 64F}, {@code 62%}, {@code 200ml},
 * {@code 15min}. A figure whose unit could be misread is refused, with what to write instead.
 */
final class Quantities {
  private static final Pattern FIGURE =
      Pattern.compile("\\s*([+-]?(?:\\d+(?:\\.\\d*)?|\\.\\d+))\\s*(.*?)\\s*");

  private Quantities() {}

  /** A figure and the unit behind it, in lower case. */
  record Figure(double value, String unit) {
    static Figure parse(String text, String wanted) {
      Matcher matcher = FIGURE.matcher(text);
      if (!matcher.matches()) {
        throw new TypeConversionException("\"" + text + "\": write " + wanted);
      }
      return new Figure(
          new BigDecimal(matcher.group(1)).doubleValue(),
          matcher.group(2).toLowerCase(Locale.ROOT));
    }
  }

  private static double convert(String text, String wanted, Map<String, Double> factors) {
    Figure figure = Figure.parse(text, wanted);
    Double factor = factors.get(figure.unit());
    if (factor == null) {
      throw new TypeConversionException("\"" + text + "\": write " + wanted);
    }
    return figure.value() * factor;
  }

  /** A temperature in degC, from {@code 18C}, {@code 18} or {@code 64.4F}. */
  static final class Celsius implements ITypeConverter<Double> {
    @Override
    public Double convert(String text) {
      String wanted = "a temperature such as 18C or 64F";
      Figure figure = Figure.parse(text, wanted);
      return switch (figure.unit()) {
        case "", "c", "°c", "degc" -> figure.value();
        case "f", "°f", "degf" -> (figure.value() - 32) / 1.8;
        default -> throw new TypeConversionException("\"" + text + "\": write " + wanted);
      };
    }
  }

  /** A percentage, from {@code 62%} or {@code 62}. */
  static final class Percent implements ITypeConverter<Double> {
    @Override
    public Double convert(String text) {
      return Quantities.convert(text, "a percentage such as 62%", Map.of("", 1.0, "%", 1.0));
    }
  }

  /** A time span, from {@code 15min}, {@code 90s} or {@code 1.5h}. */
  static final class Span implements ITypeConverter<Duration> {
    @Override
    public Duration convert(String text) {
      double seconds =
          Quantities.convert(
              text,
              "a time span such as 15min, 90s or 2h",
              Map.of("s", 1.0, "min", 60.0, "m", 60.0, "h", 3600.0));
      if (!(seconds >= 0) || seconds > 1e9) {
        throw new TypeConversionException("\"" + text + "\": write a time span of zero or more");
      }
      return Duration.ofMillis(Math.round(seconds * 1000));
    }
  }
}
