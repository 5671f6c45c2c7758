package org.layroom.device.alarm;

import java.time.Duration;
import java.util.Optional;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;

/**
 * A lamp, the buzzer or the fan on its line. A line that cannot be taken, because another program
 * has it, is tried again every minute; until then there is a fault and nothing else.
 */
final class SwitchedPart {
  private static final Duration TRY_AGAIN = Duration.ofMinutes(1);

  private final Gpio gpio;
  private final Gpio.Wire wire;
  private Optional<Gpio.Output> line = Optional.empty();
  private Optional<Duration> tried = Optional.empty();
  private String refusal = "";

  SwitchedPart(Gpio gpio, Gpio.Wire wire) {
    this.gpio = gpio;
    this.wire = wire;
  }

  /**
   * Switches it.
   *
   * @param uptime running time
   * @return why it could not be; empty when it could
   */
  Optional<String> set(boolean on, Duration uptime) {
    if (line.isEmpty()
        && tried.filter(at -> uptime.minus(at).compareTo(TRY_AGAIN) < 0).isPresent()) {
      return Optional.of(refusal);
    }
    try {
      if (line.isPresent()) {
        line.get().set(on);
      } else {
        tried = Optional.of(uptime);
        line = Optional.of(gpio.output(wire, on));
      }
      return Optional.empty();
    } catch (BusFault e) {
      refusal = e.reason();
      return Optional.of(refusal);
    }
  }

  /** What becomes of it at the end of the program. */
  void atEnd(Gpio.AtEnd what) {
    line.ifPresent(open -> open.atEnd(what));
  }
}
