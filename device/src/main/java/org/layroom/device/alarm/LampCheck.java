package org.layroom.device.alarm;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;
import org.layroom.device.pace.Pace;

/** Each part of the alarm by hand: whether its line can be taken, and whether it works. */
public final class LampCheck {
  /** How long each lamp and the buzzer is on: long enough to look up (this project's choice). */
  static final Duration LAMP = Duration.ofSeconds(2);

  private final Gpio gpio;
  private final AlarmLines lines;

  public LampCheck(Gpio gpio, AlarmLines lines) {
    this.gpio = gpio;
    this.lines = lines;
  }

  /** A line in words for each part, beginning with found or fault; nothing is switched on. */
  public List<String> taken() {
    List<String> words = new ArrayList<>();
    for (AlarmPart part : AlarmPart.values()) {
      Gpio.Wire wire = lines.wires().get(part);
      if (wire != null && part != AlarmPart.FAN) {
        words.add(
            take(part, wire)
                .map(reason -> "fault  " + part.words() + ": " + reason)
                .orElse("found  line of the " + part.words() + ", GPIO " + wire.line()));
      }
    }
    return words;
  }

  private Optional<String> take(AlarmPart part, Gpio.Wire wire) {
    try {
      if (part == AlarmPart.MUTE_BUTTON) {
        gpio.input(wire.line());
      } else {
        gpio.output(wire, false);
      }
      return Optional.empty();
    } catch (BusFault e) {
      return Optional.of(e.reason());
    }
  }

  /**
   * Switches lamps, buzzer and fan on, one after another, and says which before each; waits on the
   * caller's thread.
   *
   * @return whether every line could be set
   */
  public boolean test(Pace pace, Consumer<String> out) throws InterruptedException {
    boolean well = true;
    for (AlarmPart part : AlarmPart.values()) {
      Gpio.Wire wire = lines.wires().get(part);
      if (wire == null || part == AlarmPart.MUTE_BUTTON) {
        continue;
      }
      Duration time = part == AlarmPart.FAN ? FanRelay.TEST : LAMP;
      out.accept(
          "test   %s on GPIO %d is on for %d s"
              .formatted(part.words(), wire.line(), time.toSeconds()));
      well &= test(part, wire, time, pace, out);
    }
    return well;
  }

  private boolean test(
      AlarmPart part, Gpio.Wire wire, Duration time, Pace pace, Consumer<String> out)
      throws InterruptedException {
    try {
      Gpio.Output output = gpio.output(wire, false);
      output.set(true);
      try {
        pace.pause(time);
      } finally {
        output.set(false);
      }
      return true;
    } catch (BusFault e) {
      out.accept("fault  " + part.words() + ": " + e.reason());
      return false;
    }
  }
}
