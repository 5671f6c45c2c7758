package org.layroom.dashboard.cli;

import java.time.Duration;
import org.layroom.dashboard.quantity.Quantities;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.TypeConversionException;

/** Figures with units as options of a command. */
final class QuantityOptions {
  private QuantityOptions() {}

  private interface Parsing<T> {
    T parse(String text);
  }

  private static <T> T typed(String text, Parsing<T> parsing) {
    try {
      return parsing.parse(text);
    } catch (IllegalArgumentException e) {
      throw new TypeConversionException(String.valueOf(e.getMessage()));
    }
  }

  /** A temperature in degC. */
  static final class Celsius implements ITypeConverter<Double> {
    @Override
    public Double convert(String text) {
      return typed(text, Quantities::celsius);
    }
  }

  /** A percentage. */
  static final class Percent implements ITypeConverter<Double> {
    @Override
    public Double convert(String text) {
      return typed(text, Quantities::percent);
    }
  }

  /** A dose in % by weight. */
  static final class DosePct implements ITypeConverter<Double> {
    @Override
    public Double convert(String text) {
      return typed(text, Quantities::dosePct);
    }
  }

  /** A time span. */
  static final class Span implements ITypeConverter<Duration> {
    @Override
    public Duration convert(String text) {
      return typed(text, Quantities::span);
    }
  }
}
