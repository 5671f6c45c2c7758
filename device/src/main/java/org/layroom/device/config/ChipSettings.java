package org.layroom.device.config;

import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.stream.Stream;

/**
 * The settings of the chips that need some: one component for each such kind of chip. A new chip's
 * settings are added here, and nowhere else in this package.
 */
public record ChipSettings(InfraredSettings infrared, PidSettings pid) {
  static final List<String> KEYS =
      Stream.of(InfraredSettings.KEYS, PidSettings.KEYS).flatMap(List::stream).toList();

  static final Map<String, String> DEFAULTS =
      Map.of(
          "infrared.emissivity", "0.95",
          "pid.input", "0",
          "pid.styrene-factor", "0.45",
          "pid.top-volts", "4.09");

  static ChipSettings of(SettingsText text) {
    return new ChipSettings(InfraredSettings.of(text), PidSettings.of(text));
  }

  /** The settings of chips about which nothing was written. */
  public static ChipSettings standard() {
    return of(new SettingsText(new Properties(), DEFAULTS));
  }
}
