package org.layroom.predictor.mix;

import java.time.Duration;
import java.util.Optional;
import org.layroom.predictor.cure.MaterialPosterior;
import org.layroom.predictor.limits.ShopLimits;

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
  private static final double DAYS_IN_A_MONTH = 365.25 / 12;
  private static final double LOSS_A_MONTH = 0.01;
  private static final double MOST_MONTHS = 12;

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

  /**
   * What is believed of a can mixed from this bottle. MEKP loses strength once it is open: chosen
   * as 1 % of the dose a month likely and as much again as a spread, twice that after three months,
   * no more after a year (from memory: well kept a few per cent a year, open or warm far more). The
   * dose is not raised for it, only the times follow.
   */
  MaterialPosterior weakened(MaterialPosterior belief) {
    double months = Math.min(MOST_MONTHS, open.orElse(Duration.ZERO).toDays() / DAYS_IN_A_MONTH);
    if (months <= 0) {
      return belief;
    }
    boolean old = open.orElse(Duration.ZERO).compareTo(ShopLimits.LONGEST_OPEN_CATALYST) > 0;
    double lnSlower = belief.sheetDoseExponent() * LOSS_A_MONTH * months;
    return belief.slower(lnSlower).doubting((old ? 2 : 1) * lnSlower);
  }

  /** This bottle with the outcome of a gel test. */
  public CatalystBottle withGelTest(Tested outcome) {
    return new CatalystBottle(dated, expired, open, outcome);
  }
}
