package org.layroom.device.alarm;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;
import org.layroom.predictor.vapor.AirCall;

/** The wires of the alarm. A line that fails does not keep the others from being set. */
final class AlarmBoard {
  private final Optional<Gpio.Output> mixLamp;
  private final Optional<Gpio.Output> waitLamp;
  private final Optional<Gpio.Output> ventilateLamp;
  private final Optional<Gpio.Output> leaveLamp;
  private final Optional<Gpio.Output> buzzer;
  private final Optional<Gpio.Input> button;
  private final Optional<FanRelay> fan;

  AlarmBoard(Gpio gpio, AlarmLines lines) throws BusFault {
    mixLamp = output(gpio, lines.mixLamp());
    waitLamp = output(gpio, lines.waitLamp());
    ventilateLamp = output(gpio, lines.ventilateLamp());
    leaveLamp = output(gpio, lines.leaveLamp());
    buzzer = output(gpio, lines.buzzer());
    fan = output(gpio, lines.fanRelay()).map(line -> new FanRelay(line, lines.fanTimes()));
    button =
        lines.muteButton().isPresent()
            ? Optional.of(gpio.input(lines.muteButton().getAsInt()))
            : Optional.empty();
  }

  private static Optional<Gpio.Output> output(Gpio gpio, OptionalInt line) throws BusFault {
    return line.isPresent() ? Optional.of(gpio.output(line.getAsInt())) : Optional.empty();
  }

  /**
   * Sets all lines; returns what could not be set.
   *
   * @param call what the fan goes by
   * @param uptime running time
   */
  List<String> show(LampSignal signal, AirCall call, Duration uptime) {
    List<String> faults = set(signal);
    try {
      if (fan.isPresent()) {
        fan.get().step(call, uptime);
      }
    } catch (BusFault e) {
      faults.add("fan relay: " + e.reason());
    }
    return faults;
  }

  /** Everything off. */
  List<String> dark() {
    List<String> faults = set(LampSignal.DARK);
    try {
      if (fan.isPresent()) {
        fan.get().off();
      }
    } catch (BusFault e) {
      faults.add("fan relay: " + e.reason());
    }
    return faults;
  }

  private List<String> set(LampSignal signal) {
    List<String> faults = new ArrayList<>();
    set("mix lamp", mixLamp, signal.mixLamp(), faults);
    set("wait lamp", waitLamp, signal.waitLamp(), faults);
    set("ventilate lamp", ventilateLamp, signal.ventilateLamp(), faults);
    set("leave lamp", leaveLamp, signal.leaveLamp(), faults);
    set("buzzer", buzzer, signal.buzzer(), faults);
    return faults;
  }

  private static void set(
      String what, Optional<Gpio.Output> line, boolean on, List<String> faults) {
    if (line.isEmpty()) {
      return;
    }
    try {
      line.get().set(on);
    } catch (BusFault e) {
      faults.add(what + ": " + e.reason());
    }
  }

  /** Whether the button is down; a button that cannot be read is not. */
  boolean pressed() {
    try {
      return button.isPresent() && button.get().pressed();
    } catch (BusFault e) {
      return false;
    }
  }
}
