package org.layroom.device.alarm;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Properties;
import java.util.Set;

/**
 * Which wires the alarm has, by BCM number; each may be left out. Two lines are taken by I2C and
 * one by 1-wire, so they are refused.
 *
 * @param okLamp lit steadily when no rise is seen, and never otherwise
 * @param ventilateLamp steady for ventilate, slow flashes for unknown
 * @param leaveLamp fast flashes for leave
 * @param fanRelay an exhaust fan, on for ventilate and leave
 */
public record AlarmLines(
    OptionalInt okLamp,
    OptionalInt ventilateLamp,
    OptionalInt leaveLamp,
    OptionalInt buzzer,
    OptionalInt muteButton,
    OptionalInt fanRelay) {
  /** The settings that name them. */
  public static final List<String> KEYS =
      List.of(
          "alarm.ok-lamp",
          "alarm.ventilate-lamp",
          "alarm.leave-lamp",
          "alarm.buzzer",
          "alarm.mute-button",
          "fan.relay");

  private static final Map<Integer, String> TAKEN = Map.of(2, "I2C", 3, "I2C", 4, "1-wire");

  private static final int HIGHEST = 27;

  /**
   * Reads the settings; empty when none is there.
   *
   * @throws IllegalArgumentException for a line that is not there, taken, or named twice
   */
  public static Optional<AlarmLines> of(Properties properties) {
    Map<String, OptionalInt> lines = new HashMap<>();
    Set<Integer> seen = new HashSet<>();
    for (String key : KEYS) {
      String text = properties.getProperty(key, "").strip();
      OptionalInt line = text.isEmpty() ? OptionalInt.empty() : OptionalInt.of(line(key, text));
      if (line.isPresent() && !seen.add(line.getAsInt())) {
        throw new IllegalArgumentException(
            key + " \"" + text + "\": this line is already used by another part of the alarm");
      }
      lines.put(key, line);
    }
    return seen.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new AlarmLines(
                line(lines, 0),
                line(lines, 1),
                line(lines, 2),
                line(lines, 3),
                line(lines, 4),
                line(lines, 5)));
  }

  private static OptionalInt line(Map<String, OptionalInt> lines, int key) {
    return lines.getOrDefault(KEYS.get(key), OptionalInt.empty());
  }

  private static int line(String key, String text) {
    int line;
    try {
      line = Integer.parseInt(text);
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException(refusal(key, text), e);
    }
    if (line < 0 || line > HIGHEST) {
      throw new IllegalArgumentException(refusal(key, text));
    }
    if (TAKEN.containsKey(line)) {
      throw new IllegalArgumentException(
          key + " \"" + text + "\": this line is used by " + TAKEN.get(line));
    }
    return line;
  }

  private static String refusal(String key, String text) {
    return key + " \"" + text + "\": write the BCM number of a line, 0 to 27";
  }
}
