package org.layroom.device.alarm;

import java.time.Duration;
import java.util.List;
import java.util.Properties;

/**
 * How short the exhaust fan's runs and rests may be, so that relay and motor last. The usual times
 * and the ranges are this project's own choice; a motor's own sheet goes before them.
 *
 * @param leastOn 1 to 120 min
 * @param leastOff 1 to 60 min
 */
public record FanTimes(Duration leastOn, Duration leastOff) {
  private static final String ON = "fan.least-on-minutes";
  private static final String OFF = "fan.least-off-minutes";
  static final List<String> KEYS = List.of(ON, OFF);

  private static final double LEAST = 1;
  private static final double MOST_ON = 120;
  private static final double MOST_OFF = 60;

  /** Ten minutes on, three off. */
  public static FanTimes usual() {
    return new FanTimes(Duration.ofMinutes(10), Duration.ofMinutes(3));
  }

  /**
   * Reads the settings; what is left out is as usual.
   *
   * @throws IllegalArgumentException for a time out of its range, and for one without a fan
   */
  static FanTimes of(Properties properties) {
    return new FanTimes(
        minutes(properties, ON, MOST_ON, usual().leastOn()),
        minutes(properties, OFF, MOST_OFF, usual().leastOff()));
  }

  private static Duration minutes(Properties properties, String key, double most, Duration usual) {
    String text = properties.getProperty(key, "").strip();
    if (text.isEmpty()) {
      return usual;
    }
    if (properties.getProperty("fan.relay", "").isBlank()) {
      throw new IllegalArgumentException(key + " needs fan.relay");
    }
    String refusal = "%s \"%s\": enter minutes from %.0f to %.0f".formatted(key, text, LEAST, most);
    try {
      double minutes = Double.parseDouble(text);
      if (minutes >= LEAST && minutes <= most) {
        return Duration.ofMillis(Math.round(minutes * 60_000));
      }
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException(refusal, e);
    }
    throw new IllegalArgumentException(refusal);
  }
}
