package org.layroom.predictor.limits;

import java.time.Duration;

/**
 * The limits of a layup room that hold for every material, each with where it comes from. A
 * material's own limits bind as well; the narrower one counts.
 */
public final class ShopLimits {
  /** Below this mold or resin temperature, degC, no number is given at all. */
  public static final double COLDEST_C = 10;

  /** Below this temperature, degC, a gel time is shown but no dose is recommended. */
  public static final double COLDEST_DOSE_C = 15;

  /** From {@link #COLDEST_DOSE_C} up to this, degC, mixing is allowed with a warning. */
  public static final double COOL_C = 18;

  /** Above this mold or resin temperature, degC, no number is given. */
  public static final double HOTTEST_C = 35;

  /** Gel coat above this, degC, is mixed in small cups (gel coat guides: 15.6 to 26.7 degC). */
  public static final double WARM_GEL_COAT_C = 27;

  /** Flash point of styrene, degC. */
  public static final double STYRENE_FLASH_POINT_C = 31;

  /** A surface within this of the dew point, K, counts as wet (chosen by this project). */
  public static final double WET_MARGIN_K = 1;

  /**
   * A surface must be this far above the dew point, K. From steel-coating practice (ISO 8502-4, ISO
   * 12944-7), applied here by analogy.
   */
  public static final double DRY_MARGIN_K = 3;

  /** Relative humidity up to which laminating goes on, % (classification rules for FRP). */
  public static final double DAMP_HUMIDITY_PCT = 80;

  /** Relative humidity above which nothing is mixed, % (chosen by this project). */
  public static final double WET_HUMIDITY_PCT = 90;

  /** A reading older than this says nothing about now. */
  public static final Duration OLDEST_READING = Duration.ofMinutes(30);

  /** A mold temperature that moves faster than this, K per hour, makes a band, not a time. */
  public static final double FASTEST_DRIFT_K_PER_H = 3;

  /** Lowest dose that is answered at all, % by weight. */
  public static final double LOWEST_DOSE_PCT = 0.8;

  /** Highest dose for any material, % by weight. */
  public static final double HIGHEST_DOSE_PCT = 3.0;

  /** A predicted gel time below this, minutes, is refused. */
  public static final double SHORTEST_GEL_MINUTES = 5;

  /** A predicted gel time above this, minutes, is a reason to wait. */
  public static final double LONGEST_GEL_MINUTES = 90;

  /**
   * A likely peak of a laminate above this, degC, softens a fiberglass mold and prints through
   * (chosen; a plug must stand 65 degC and more, a resin's heat deflection is 60 to 80 degC).
   */
  public static final double WARM_LAMINATE_C = 60;

  /** A likely peak above this, degC, is a reason not to lay it in one pass (chosen). */
  public static final double HOT_LAMINATE_C = 80;

  /** A bottle of catalyst that has been open longer than this needs a gel test. */
  public static final Duration LONGEST_OPEN_CATALYST = Duration.ofDays(92);

  private ShopLimits() {}
}
