package org.layroom.device.alarm;

import java.time.Duration;
import java.util.Optional;
import org.layroom.device.bus.Gpio.AtEnd;
import org.layroom.predictor.vapor.AirCall;

/**
 * When an exhaust fan runs: on for ventilate and leave, off for ok, and as it was while nothing was
 * ever known. It goes by what was last known of the air, since a sensor that fails during an airing
 * says nothing. It never chatters: its runs and rests last as long as its times say. In air that
 * may be explosive a motor of which nothing is known is neither started nor stopped.
 */
final class FanRelay {
  /** How long a test runs it: long enough to hear it (this project's choice). */
  static final Duration TEST = Duration.ofSeconds(5);

  private final FanSettings settings;
  private boolean on;
  private Optional<Duration> changed = Optional.empty();
  private Optional<Duration> testUntil = Optional.empty();

  /**
   * A fan.
   *
   * @param on whether it runs now
   */
  FanRelay(FanSettings settings, boolean on) {
    this.settings = settings;
    this.on = on;
  }

  /**
   * Whether it is to run now.
   *
   * @param known what is known of the air, under any unknown that is laid over it
   * @param mayExplode the air may be explosive
   * @param uptime running time
   */
  boolean step(AirCall known, boolean mayExplode, Duration uptime) {
    if (leftAlone(mayExplode)) {
      testUntil = Optional.empty();
      return on;
    }
    boolean wanted =
        switch (known) {
          case OK -> false;
          case VENTILATE, LEAVE -> true;
          case UNKNOWN -> on;
        };
    Duration least = on ? settings.times().leastOn() : settings.times().leastOff();
    boolean rested = changed.filter(at -> uptime.minus(at).compareTo(least) < 0).isEmpty();
    if (wanted != on && rested) {
      on = wanted;
      changed = Optional.of(uptime);
    }
    return on || testUntil.filter(end -> uptime.compareTo(end) < 0).isPresent();
  }

  /** Runs it for a moment; a call for air meanwhile goes on with it. */
  void test(Duration uptime) {
    testUntil = Optional.of(uptime.plus(TEST));
  }

  private boolean leftAlone(boolean mayExplode) {
    return mayExplode && settings.motor() == FanSettings.Motor.UNKNOWN;
  }

  /** What becomes of it when the program ends now. */
  AtEnd atEnd(boolean mayExplode) {
    return leftAlone(mayExplode) ? AtEnd.AS_IT_WAS : settings.whenStopped();
  }

  /** Whether the air makes it run, a test aside. */
  boolean on() {
    return on;
  }
}
