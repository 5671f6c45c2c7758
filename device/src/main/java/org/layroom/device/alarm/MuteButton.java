package org.layroom.device.alarm;

import java.time.Duration;
import java.util.Optional;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;

/**
 * The button: a press mutes at once, however short it was, and held down for three seconds it tests
 * lamps, buzzer and fan. Its line is tried again every minute while it cannot be taken.
 */
final class MuteButton {
  /** How long it is held for a test (this project's choice). */
  static final Duration LONG = Duration.ofSeconds(3);

  private static final Duration TRY_AGAIN = Duration.ofMinutes(1);

  private final Gpio gpio;
  private final int number;
  private Optional<Gpio.Input> line = Optional.empty();
  private Optional<Duration> tried = Optional.empty();
  private Optional<String> fault = Optional.empty();
  private long counted;
  private Optional<Duration> downSince = Optional.empty();
  private boolean tested;

  /** What it was used for. */
  enum Use {
    NOTHING,
    MUTE,
    TEST
  }

  MuteButton(Gpio gpio, int number) {
    this.gpio = gpio;
    this.number = number;
  }

  /**
   * What it was used for since the last call.
   *
   * @param uptime running time
   */
  Use use(Duration uptime) {
    try {
      if (line.isEmpty()) {
        if (tried.filter(at -> uptime.minus(at).compareTo(TRY_AGAIN) < 0).isPresent()) {
          return Use.NOTHING;
        }
        tried = Optional.of(uptime);
        line = Optional.of(gpio.input(number));
      }
      fault = Optional.empty();
      return use(line.get(), uptime);
    } catch (BusFault e) {
      fault = Optional.of(e.reason());
      return Use.NOTHING;
    }
  }

  private Use use(Gpio.Input input, Duration uptime) throws BusFault {
    boolean down = input.pressed();
    long presses = input.presses();
    boolean pressed = presses != counted || (down && downSince.isEmpty());
    counted = presses;
    if (!down) {
      downSince = Optional.empty();
      return pressed && !tested ? Use.MUTE : released();
    }
    Duration since = downSince.orElse(uptime);
    boolean first = downSince.isEmpty();
    downSince = Optional.of(since);
    if (first) {
      tested = false;
      return Use.MUTE;
    }
    if (!tested && uptime.minus(since).compareTo(LONG) >= 0) {
      tested = true;
      return Use.TEST;
    }
    return Use.NOTHING;
  }

  private Use released() {
    tested = false;
    return Use.NOTHING;
  }

  /** Why it cannot be used; empty when it can. */
  Optional<String> fault() {
    return fault;
  }
}
