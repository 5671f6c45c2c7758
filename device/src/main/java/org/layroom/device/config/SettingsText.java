package org.layroom.device.config;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.Map;
import java.util.Optional;
import java.util.Properties;

/** Settings as written, with their defaults; what cannot be used is refused with what to write. */
final class SettingsText {
  private final Properties properties;
  private final Map<String, String> defaults;

  SettingsText(Properties properties, Map<String, String> defaults) {
    this.properties = properties;
    this.defaults = defaults;
  }

  String text(String key) {
    return properties.getProperty(key, defaults.getOrDefault(key, "")).strip();
  }

  Optional<String> optional(String key) {
    return Optional.of(text(key)).filter(value -> !value.isEmpty());
  }

  double number(String key, double least, double most) {
    String value = text(key);
    try {
      double number = Double.parseDouble(value);
      if (number >= least && number <= most) {
        return number;
      }
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException(outside(key, value, least, most), e);
    }
    throw new IllegalArgumentException(outside(key, value, least, most));
  }

  LocalDate day(String key) {
    try {
      return LocalDate.parse(text(key));
    } catch (DateTimeParseException e) {
      throw new IllegalArgumentException(
          key + " \"" + text(key) + "\": enter a day such as 2026-03-01", e);
    }
  }

  private static String outside(String key, String value, double least, double most) {
    return "%s \"%s\": enter a number from %s to %s".formatted(key, value, least, most);
  }
}
