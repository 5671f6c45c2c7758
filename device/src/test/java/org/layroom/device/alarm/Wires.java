package org.layroom.device.alarm;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;

/** Lines that remember what they were set to, as a Pi's kernel does over a program's death. */
final class Wires implements Gpio {
  private final Map<Integer, Boolean> high = new HashMap<>();
  private final Map<Integer, AtEnd> ends = new HashMap<>();
  private final Set<Integer> broken = new HashSet<>();
  private final Set<Integer> taken = new HashSet<>();
  private final List<String> history = new ArrayList<>();
  private boolean down;
  private long presses;

  /** From now on this line can be taken and not be set. */
  void breakLine(int line) {
    broken.add(line);
  }

  /** Another program has this line, or has given it back. */
  void taken(int line, boolean byAnother) {
    if (byAnother) {
      taken.add(line);
    } else {
      taken.remove(line);
    }
  }

  void down(boolean now) {
    presses += now && !down ? 1 : 0;
    down = now;
  }

  @Override
  public Output output(Wire wire, boolean on) throws BusFault {
    if (taken.contains(wire.line())) {
      throw new BusFault("GPIO line " + wire.line() + " cannot be used: busy");
    }
    high.put(wire.line(), on != wire.activeLow());
    ends.put(wire.line(), AtEnd.OFF);
    return new Output() {
      @Override
      public void set(boolean value) throws BusFault {
        if (broken.contains(wire.line())) {
          throw new BusFault("no such line");
        }
        high.put(wire.line(), value != wire.activeLow());
        history.add(wire.line() + (value ? " on" : " off"));
      }

      @Override
      public void atEnd(AtEnd what) {
        ends.put(wire.line(), what);
      }
    };
  }

  @Override
  public Input input(int line) throws BusFault {
    if (taken.contains(line)) {
      throw new BusFault("GPIO line " + line + " cannot be used: busy");
    }
    return new Input() {
      @Override
      public boolean pressed() {
        return down;
      }

      @Override
      public long presses() {
        return presses;
      }
    };
  }

  /** Whether the line is high. */
  boolean lit(int line) {
    return high.getOrDefault(line, false);
  }

  /** What was switched since the lines were taken, the oldest first. */
  List<String> history() {
    return history;
  }

  AtEnd end(int line) {
    return ends.getOrDefault(line, AtEnd.AS_IT_WAS);
  }

  @Override
  public void close() {
    high.clear();
  }
}
