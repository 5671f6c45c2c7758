package org.layroom.device.alarm;

import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.device.bus.Gpio;
import org.layroom.device.bus.Gpio.AtEnd;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.layroom.predictor.vapor.AirCall;

/**
 * The wires of the alarm. A line that cannot be taken or set is a fault of its part, and keeps no
 * other from being set.
 */
final class AlarmBoard {
  private final Map<AlarmPart, SwitchedPart> parts = new EnumMap<>(AlarmPart.class);
  private final Map<AlarmPart, String> faults = new EnumMap<>(AlarmPart.class);
  private final Optional<MuteButton> button;
  private final Optional<Fan> fan;

  /** The fan's rule and its line. */
  private record Fan(FanRelay relay, SwitchedPart line) {}

  /**
   * A board that has taken no line yet.
   *
   * @param fanOn whether the fan runs, as far as is known
   */
  AlarmBoard(Gpio gpio, AlarmLines lines, boolean fanOn) {
    lines
        .wires()
        .forEach(
            (part, wire) -> {
              if (part != AlarmPart.MUTE_BUTTON && part != AlarmPart.FAN) {
                parts.put(part, new SwitchedPart(gpio, wire));
              }
            });
    fan =
        Optional.ofNullable(lines.wires().get(AlarmPart.FAN))
            .map(wire -> new Fan(new FanRelay(lines.fan(), fanOn), new SwitchedPart(gpio, wire)));
    button =
        Optional.ofNullable(lines.wires().get(AlarmPart.MUTE_BUTTON))
            .map(wire -> new MuteButton(gpio, wire.line()));
  }

  /**
   * Sets all lines.
   *
   * @param known what the fan goes by
   * @param mayExplode the air may be explosive
   * @param uptime running time
   */
  void show(LampSignal signal, AirCall known, boolean mayExplode, Duration uptime) {
    lamps(signal, uptime);
    fan.ifPresent(
        one -> {
          boolean on = one.relay().step(known, mayExplode, uptime);
          note(AlarmPart.FAN, one.line().set(on, uptime));
          one.line().atEnd(one.relay().atEnd(mayExplode));
        });
  }

  /**
   * For the end of the program: lamps and buzzer off, the fan as its settings say.
   *
   * @param uptime running time
   */
  void dark(boolean mayExplode, Duration uptime) {
    lamps(LampSignal.DARK, uptime);
    fan.ifPresent(
        one -> {
          AtEnd end = one.relay().atEnd(mayExplode);
          if (end != AtEnd.AS_IT_WAS) {
            note(AlarmPart.FAN, one.line().set(end == AtEnd.ON, uptime));
          }
          one.line().atEnd(end);
        });
  }

  private void lamps(LampSignal signal, Duration uptime) {
    set(AlarmPart.MIX_LAMP, signal.mixLamp(), uptime);
    set(AlarmPart.WAIT_LAMP, signal.waitLamp(), uptime);
    set(AlarmPart.VENTILATE_LAMP, signal.ventilateLamp(), uptime);
    set(AlarmPart.LEAVE_LAMP, signal.leaveLamp(), uptime);
    set(AlarmPart.BUZZER, signal.buzzer(), uptime);
  }

  private void set(AlarmPart part, boolean on, Duration uptime) {
    SwitchedPart line = parts.get(part);
    if (line != null) {
      note(part, line.set(on, uptime));
    }
  }

  private void note(AlarmPart part, Optional<String> fault) {
    fault.ifPresentOrElse(reason -> faults.put(part, reason), () -> faults.remove(part));
  }

  /** What the button was used for since the last time it was asked. */
  MuteButton.Use button(Duration uptime) {
    if (button.isEmpty()) {
      return MuteButton.Use.NOTHING;
    }
    MuteButton.Use use = button.get().use(uptime);
    note(AlarmPart.MUTE_BUTTON, button.get().fault());
    return use;
  }

  /** Runs the fan for a moment. */
  void testFan(Duration uptime) {
    fan.ifPresent(one -> one.relay().test(uptime));
  }

  /** Whether the air makes the fan run. */
  boolean fanOn() {
    return fan.filter(one -> one.relay().on()).isPresent();
  }

  /** The parts that do not work now. */
  List<PartFault> faults() {
    List<PartFault> all = new ArrayList<>();
    faults.forEach((part, reason) -> all.add(new PartFault(part.words(), reason)));
    return all;
  }
}
