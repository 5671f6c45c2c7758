package org.layroom.device.alarm;

import java.time.Duration;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirWarning.Sound;
import org.layroom.predictor.verdict.State;

/**
 * What is lit and heard at one moment. Each state has a place and a rhythm of its own, so that it
 * can be told without seeing colors. The first two lamps are the mix check: ready to mix is lit
 * with a short gap now and then, so that a lamp which a dead program has left on looks otherwise;
 * wait is steady on the second lamp, and slow flashes there mean that it cannot be told. The other
 * two are the air: steady ventilate, slow flashes unknown, fast flashes leave, with which no other
 * lamp is lit.
 */
record LampSignal(
    boolean mixLamp, boolean waitLamp, boolean ventilateLamp, boolean leaveLamp, boolean buzzer) {
  static final LampSignal DARK = new LampSignal(false, false, false, false, false);

  private static final Duration FAST = Duration.ofMillis(500);
  private static final Duration SLOW = Duration.ofSeconds(2);
  private static final Duration BETWEEN = Duration.ofSeconds(30);
  private static final Duration SHORT = Duration.ofMillis(500);

  /** The lamp of ready to mix goes out for the last part of each of these. */
  static final Duration ALIVE = Duration.ofSeconds(4);

  private static final Duration GAP = Duration.ofMillis(500);

  /** What the self-test shows, one after another, each for this long. */
  static final Duration TEST_STEP = Duration.ofMillis(500);

  private static final int TEST_STEPS = 5;

  /**
   * The signal of a state.
   *
   * @param mix what the mix check says, the air included
   * @param since how long the warning has stood
   * @param uptime running time, for rhythms that belong to no warning
   * @param muted the button keeps the sound down
   */
  static LampSignal of(
      AirCall call, State mix, Sound sound, Duration since, Duration uptime, boolean muted) {
    boolean heard = !muted && heard(sound, since);
    boolean leave = call == AirCall.LEAVE;
    return new LampSignal(
        !leave && mix == State.MIX && call == AirCall.OK && lit(uptime),
        !leave && waits(mix, uptime),
        call == AirCall.VENTILATE || (call == AirCall.UNKNOWN && on(since, SLOW)),
        leave && on(since, FAST),
        heard);
  }

  private static boolean lit(Duration uptime) {
    return uptime.toMillis() % ALIVE.toMillis() < ALIVE.minus(GAP).toMillis();
  }

  private static boolean waits(State mix, Duration uptime) {
    return switch (mix) {
      case MIX -> false;
      case UNKNOWN -> on(uptime, SLOW);
      case WAIT, NO -> true;
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
  static LampSignal test(Duration since) {
    long step = since.toMillis() / TEST_STEP.toMillis();
    return new LampSignal(step == 0, step == 1, step == 2, step == 3, step == 4);
  }
}
