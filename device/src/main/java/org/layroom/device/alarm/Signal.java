package org.layroom.device.alarm;

import java.time.Duration;
import org.layroom.predictor.fumes.AirCall;
import org.layroom.predictor.fumes.AirWarning.Sound;

/**
 * What is lit and heard at one moment. Each state has a rhythm of its own, so that it can be told
 * without seeing colors: ok steady; ventilate a steady lamp and a short sound every half a minute;
 * unknown slow flashes; leave fast flashes and a sound half of the time.
 */
record Signal(boolean okLamp, boolean ventilateLamp, boolean leaveLamp, boolean buzzer) {
  static final Signal DARK = new Signal(false, false, false, false);

  private static final Duration FAST = Duration.ofMillis(500);
  private static final Duration SLOW = Duration.ofSeconds(2);
  private static final Duration BETWEEN = Duration.ofSeconds(30);
  private static final Duration SHORT = Duration.ofMillis(500);

  /** What the self-test shows, one after another, each for this long. */
  static final Duration TEST_STEP = Duration.ofMillis(500);

  private static final int TEST_STEPS = 4;

  /**
   * The signal of a state.
   *
   * @param since how long the warning has stood
   * @param muted the button keeps the sound down
   */
  static Signal of(AirCall call, Sound sound, Duration since, boolean muted) {
    boolean heard = !muted && heard(sound, since);
    return switch (call) {
      case OK -> new Signal(true, false, false, false);
      case VENTILATE -> new Signal(false, true, false, heard);
      case UNKNOWN -> new Signal(false, on(since, SLOW), false, heard);
      case LEAVE -> new Signal(false, false, on(since, FAST), heard);
    };
  }

  private static boolean heard(Sound sound, Duration since) {
    return switch (sound) {
      case SILENT -> false;
      case ONCE -> since.compareTo(SHORT.multipliedBy(2)) < 0;
      case REPEATED -> since.toMillis() % BETWEEN.toMillis() < SHORT.toMillis();
      case URGENT -> on(since, FAST);
    };
  }

  private static boolean on(Duration since, Duration half) {
    return since.toMillis() / half.toMillis() % 2 == 0;
  }

  /** Whether the self-test is still on. */
  static boolean testing(Duration since) {
    return since.compareTo(TEST_STEP.multipliedBy(TEST_STEPS)) < 0;
  }

  /** Each lamp and the buzzer once, so that a dead one is noticed. */
  static Signal test(Duration since) {
    long step = since.toMillis() / TEST_STEP.toMillis();
    return new Signal(step == 0, step == 1, step == 2, step == 3);
  }
}
