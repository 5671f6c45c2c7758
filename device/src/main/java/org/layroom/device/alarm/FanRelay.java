package org.layroom.device.alarm;

import java.time.Duration;
import java.util.Optional;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;
import org.layroom.predictor.vapor.AirCall;

/**
 * An exhaust fan's relay: on for ventilate and leave, off for ok, and as it was for unknown, since
 * a sensor that fails during an airing says nothing about the air. It never chatters: its runs and
 * rests last as long as its times say. It is switched off at the end of the program, and by the
 * service where the program was killed; so nobody may count on it.
 */
final class FanRelay {
  private final Gpio.Output line;
  private final FanTimes times;
  private boolean on;
  private Optional<Duration> changed = Optional.empty();

  FanRelay(Gpio.Output line, FanTimes times) {
    this.line = line;
    this.times = times;
  }

  /**
   * Switches where it is time to.
   *
   * @param uptime running time
   */
  void step(AirCall call, Duration uptime) throws BusFault {
    boolean wanted =
        switch (call) {
          case OK -> false;
          case VENTILATE, LEAVE -> true;
          case UNKNOWN -> on;
        };
    Duration least = on ? times.leastOn() : times.leastOff();
    boolean rested = changed.filter(at -> uptime.minus(at).compareTo(least) < 0).isEmpty();
    if (wanted != on && rested) {
      line.set(wanted);
      on = wanted;
      changed = Optional.of(uptime);
    }
  }

  /** Off, now: for the end of the program. */
  void off() throws BusFault {
    on = false;
    line.set(false);
  }
}
