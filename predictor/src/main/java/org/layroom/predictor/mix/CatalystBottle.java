package org.layroom.predictor.mix;

import java.time.Duration;
import java.util.Optional;

/**
 * The catalyst bottle in use.
 *
 * @param dated whether it shows when it was made or runs out
 * @param expired whether it is past that date
 * @param open how long it has been open, where that is known
 * @param gelTest what its last gel test showed
 */
public record CatalystBottle(
    boolean dated, boolean expired, Optional<Duration> open, Tested gelTest) {
  /** What a bottle's last gel test showed. */
  public enum Tested {
    NOT_TESTED,
    GELLED,
    FAILED
  }

  /** A bottle of which nothing speaks against it. */
  public static CatalystBottle fresh() {
    return new CatalystBottle(true, false, Optional.empty(), Tested.NOT_TESTED);
  }

  /** This bottle with the outcome of a gel test. */
  public CatalystBottle withGelTest(Tested outcome) {
    return new CatalystBottle(dated, expired, open, outcome);
  }
}
