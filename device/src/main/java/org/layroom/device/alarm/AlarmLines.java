package org.layroom.device.alarm;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Properties;
import java.util.Set;
import java.util.stream.Stream;

/**
 * Which wires the alarm has, by BCM number; each may be left out. Two lines are taken by I2C and
 * one by 1-wire, so they are refused.
 *
 * @param mixLamp lit, with a short gap now and then, when the room is ready to mix, and never
 *     otherwise
 * @param waitLamp steady for wait, slow flashes when warm, dry or air cannot be told
 * @param ventilateLamp steady for ventilate, slow flashes for air that is unknown
 * @param leaveLamp fast flashes for leave
 * @param fanRelay an exhaust fan, on for ventilate and leave
 * @param fanTimes how short the fan's runs and rests may be
 */
public record AlarmLines(
    OptionalInt mixLamp,
    OptionalInt waitLamp,
    OptionalInt ventilateLamp,
    OptionalInt leaveLamp,
    OptionalInt buzzer,
    OptionalInt muteButton,
    OptionalInt fanRelay,
    FanTimes fanTimes) {
  private static final List<String> LINES =
      List.of(
          "alarm.mix-lamp",
          "alarm.wait-lamp",
          "alarm.ventilate-lamp",
          "alarm.leave-lamp",
          "alarm.buzzer",
          "alarm.mute-button",
          "fan.relay");

  /** The settings that name them. */
  public static final List<String> KEYS =
      Stream.concat(LINES.stream(), FanTimes.KEYS.stream()).toList();

  private static final Map<Integer, String> TAKEN = Map.of(2, "I2C", 3, "I2C", 4, "1-wire");

  private static final int HIGHEST = 27;

  /**
   * Reads the settings; empty when none is there.
   *
   * @throws IllegalArgumentException for a line that is not there, taken, or named twice, and for a
   *     time of the fan that is out of its range
   */
  public static Optional<AlarmLines> of(Properties properties) {
    Map<String, OptionalInt> lines = new HashMap<>();
    Set<Integer> seen = new HashSet<>();
    for (String key : LINES) {
      String text = properties.getProperty(key, "").strip();
      OptionalInt line = text.isEmpty() ? OptionalInt.empty() : OptionalInt.of(line(key, text));
      if (line.isPresent() && !seen.add(line.getAsInt())) {
        throw new IllegalArgumentException(
            key + " \"" + text + "\": this GPIO line is already used by another part of the alarm");
      }
      lines.put(key, line);
    }
    FanTimes times = FanTimes.of(properties);
    return seen.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new AlarmLines(
                line(lines, 0),
                line(lines, 1),
                line(lines, 2),
                line(lines, 3),
                line(lines, 4),
                line(lines, 5),
                line(lines, 6),
                times));
  }

  private static OptionalInt line(Map<String, OptionalInt> lines, int key) {
    return lines.getOrDefault(LINES.get(key), OptionalInt.empty());
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
          key + " \"" + text + "\": this GPIO line is used by " + TAKEN.get(line));
    }
    return line;
  }

  private static String refusal(String key, String text) {
    return key + " \"" + text + "\": enter a BCM line number, 0 to 27";
  }
}
