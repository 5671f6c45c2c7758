package org.layroom.device.alarm;

import java.util.EnumMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Properties;
import java.util.Set;
import java.util.stream.Stream;
import org.layroom.device.bus.Gpio.AtEnd;
import org.layroom.device.bus.Gpio.Wire;

/**
 * Which wires the alarm has; each may be left out. Two lines are taken by I2C and one by 1-wire, so
 * they are refused.
 *
 * <p>The mix lamp is lit, with a short gap now and then, when the room is ready to mix, and never
 * otherwise; the wait lamp is steady for wait and flashes slowly when warm, dry or air cannot be
 * told; the ventilate lamp is steady for ventilate and flashes slowly for air that is unknown; the
 * leave lamp flashes fast for leave; the exhaust fan is on for ventilate and leave.
 *
 * @param wires of the parts that are there; at least one
 */
public record AlarmLines(Map<AlarmPart, Wire> wires, FanSettings fan) {
  private static final String ACTIVE_LOW = "gpio.active-low";

  /** The settings that name them. */
  public static final List<String> KEYS =
      Stream.of(
              Stream.of(AlarmPart.values()).map(AlarmPart::setting),
              FanSettings.KEYS.stream(),
              Stream.of(ACTIVE_LOW))
          .flatMap(keys -> keys)
          .toList();

  private static final Map<Integer, String> TAKEN = Map.of(2, "I2C", 3, "I2C", 4, "1-wire");

  private static final int HIGHEST = 27;

  /** A Pi pulls the lines up to this one up while it boots (BCM2835 peripherals, from memory). */
  private static final int HIGHEST_PULLED_UP = 8;

  public AlarmLines {
    wires = Map.copyOf(wires);
  }

  /**
   * Reads the settings; empty when none is there.
   *
   * @throws IllegalArgumentException for a line that is not there, taken, or named twice, for a fan
   *     that would run while the Pi boots, and for a setting of the fan that cannot be used
   */
  public static Optional<AlarmLines> of(Properties properties) {
    Map<AlarmPart, Wire> wires = new EnumMap<>(AlarmPart.class);
    Set<Integer> seen = new HashSet<>();
    Set<AlarmPart> activeLow = activeLow(properties);
    for (AlarmPart part : AlarmPart.values()) {
      String text = properties.getProperty(part.setting(), "").strip();
      if (text.isEmpty()) {
        continue;
      }
      int line = line(part, text);
      if (!seen.add(line)) {
        throw new IllegalArgumentException(
            part.setting()
                + " \""
                + text
                + "\": this GPIO line is already used by another part of the alarm");
      }
      wires.put(part, new Wire(line, activeLow.contains(part)));
    }
    FanSettings fan = FanSettings.of(properties);
    return wires.isEmpty() ? Optional.empty() : Optional.of(new AlarmLines(wires, fan));
  }

  /** Whether the fan is not to go off when the program ends. */
  public boolean fanIsToStay() {
    return wires.containsKey(AlarmPart.FAN) && fan.whenStopped() != AtEnd.OFF;
  }

  private static Set<AlarmPart> activeLow(Properties properties) {
    Set<AlarmPart> parts = new HashSet<>();
    for (String name : properties.getProperty(ACTIVE_LOW, "").split(",", -1)) {
      if (!name.isBlank()) {
        parts.add(switchedPart(name.strip(), properties));
      }
    }
    return parts;
  }

  private static AlarmPart switchedPart(String name, Properties properties) {
    return Stream.of(AlarmPart.values())
        .filter(part -> part != AlarmPart.MUTE_BUTTON && part.setting().equals(name))
        .filter(part -> !properties.getProperty(part.setting(), "").isBlank())
        .findFirst()
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    ACTIVE_LOW
                        + " \""
                        + name
                        + "\": enter settings of lamps, buzzer or fan that have a line, such as"
                        + " alarm.buzzer,fan.relay"));
  }

  private static int line(AlarmPart part, String text) {
    int line;
    try {
      line = Integer.parseInt(text);
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException(refusal(part, text), e);
    }
    if (line < 0 || line > HIGHEST) {
      throw new IllegalArgumentException(refusal(part, text));
    }
    if (TAKEN.containsKey(line)) {
      throw new IllegalArgumentException(
          part.setting() + " \"" + text + "\": this GPIO line is used by " + TAKEN.get(line));
    }
    if (part == AlarmPart.FAN && line <= HIGHEST_PULLED_UP) {
      throw new IllegalArgumentException(
          part.setting()
              + " \""
              + text
              + "\": a Pi pulls GPIO 0 to 8 up while it boots, so the fan would run before the"
              + " program does; use a line from 9 to 27");
    }
    return line;
  }

  private static String refusal(AlarmPart part, String text) {
    return part.setting() + " \"" + text + "\": enter a BCM line number, 0 to 27";
  }
}
