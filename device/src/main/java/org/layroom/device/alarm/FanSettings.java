package org.layroom.device.alarm;

import java.util.List;
import java.util.Properties;
import java.util.stream.Stream;
import org.layroom.device.bus.Gpio.AtEnd;

/**
 * How an exhaust fan may be driven.
 *
 * @param times how short its runs and rests may be
 * @param motor whether the motor may spark into the vapor
 * @param whenStopped what becomes of the fan when the program ends
 */
public record FanSettings(FanTimes times, Motor motor, AtEnd whenStopped) {
  private static final String MOTOR = "fan.motor";
  private static final String WHEN_STOPPED = "fan.when-stopped";
  static final List<String> KEYS =
      Stream.concat(FanTimes.KEYS.stream(), Stream.of(MOTOR, WHEN_STOPPED)).toList();

  /** Where the motor stands, and for what it is built. */
  public enum Motor {
    /** Outside the air that is exhausted. */
    OUT_OF_STREAM,
    /** Built and rated for air that may be explosive. */
    RATED,
    /** Nobody has said: it is never switched by itself in air that may be explosive. */
    UNKNOWN
  }

  /** Usual times, a motor of which nothing is known, off when the program ends. */
  public static FanSettings usual() {
    return new FanSettings(FanTimes.usual(), Motor.UNKNOWN, AtEnd.OFF);
  }

  /**
   * Reads the settings; what is left out is as usual.
   *
   * @throws IllegalArgumentException for a value that is none of the choices, and for one without a
   *     fan
   */
  static FanSettings of(Properties properties) {
    return new FanSettings(FanTimes.of(properties), motor(properties), whenStopped(properties));
  }

  private static Motor motor(Properties properties) {
    String text = text(properties, MOTOR);
    return switch (text) {
      case "" -> usual().motor();
      case "out-of-stream" -> Motor.OUT_OF_STREAM;
      case "rated" -> Motor.RATED;
      case "unknown" -> Motor.UNKNOWN;
      default ->
          throw new IllegalArgumentException(
              MOTOR + " \"" + text + "\": enter out-of-stream, rated or unknown");
    };
  }

  private static AtEnd whenStopped(Properties properties) {
    String text = text(properties, WHEN_STOPPED);
    return switch (text) {
      case "" -> usual().whenStopped();
      case "off" -> AtEnd.OFF;
      case "on" -> AtEnd.ON;
      case "as-it-was" -> AtEnd.AS_IT_WAS;
      default ->
          throw new IllegalArgumentException(
              WHEN_STOPPED + " \"" + text + "\": enter off, on or as-it-was");
    };
  }

  private static String text(Properties properties, String key) {
    String text = properties.getProperty(key, "").strip();
    if (!text.isEmpty() && properties.getProperty(AlarmPart.FAN.setting(), "").isBlank()) {
      throw new IllegalArgumentException(key + " needs " + AlarmPart.FAN.setting());
    }
    return text;
  }
}
