package org.layroom.predictor.emission;

import java.time.Duration;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.exposure.Styrene;
import org.layroom.predictor.limits.RangeCheck;

/**
 * What is about to be applied: it gives off its vapor in two stretches, half evenly while it is
 * worked and half evenly from then until it gels. The halves are this project's own choice; resin
 * and gel coat of one layup are taken to be applied together, the worse case.
 *
 * @param resin laminating resin
 * @param gelCoat gel coat, where there is any
 * @param workingTime from the start until all is applied, above 0
 * @param gelTime from the start until it has gelled: not before the working time is over, at most
 *     24 h
 * @param areaM2 wet area, where it is known: to see whether the vapor would come off faster than
 *     has been measured
 * @param warmth emission against that at 25 degC, as the vapor pressure of styrene; 1 where the
 *     air's temperature is not known
 */
public record Layup(
    Batch resin,
    Optional<Batch> gelCoat,
    Duration workingTime,
    Duration gelTime,
    OptionalDouble areaM2,
    double warmth) {
  private static final double REFERENCE_C = 25;

  static final Duration LONGEST_GEL = Duration.ofHours(24);

  /** Half while it is worked, half until it gels (this project's own choice). */
  static final double SHARE_WHILE_WORKED = 0.5;

  /**
   * One material of the layup.
   *
   * @param kg above 0, at most 1000 kg
   * @param styrenePct 0 to 70 % by weight
   * @param rule which equation holds for the way that it is applied
   */
  public record Batch(double kg, double styrenePct, EmissionRule rule) {
    private static final double MOST_KG = 1000;

    public Batch {
      RangeCheck.positive("amount", kg, MOST_KG, "kg");
      RangeCheck.within(
          "styrene content", styrenePct, 0, EmissionRule.HIGHEST_STYRENE_PCT, "% by weight");
    }

    /** Resin applied by hand. */
    public static Batch resin(double kg, double styrenePct) {
      return new Batch(kg, styrenePct, EmissionRule.RESIN_BY_HAND);
    }

    /** Gel coat, however it is applied. */
    public static Batch gelCoat(double kg, double styrenePct) {
      return new Batch(kg, styrenePct, EmissionRule.GEL_COAT_ANY_METHOD);
    }

    /** Vapor given off in all at 25 degC, g. */
    public double emittedGrams() {
      return 1000 * kg * rule.share(styrenePct);
    }
  }

  public Layup {
    if (workingTime.isZero() || workingTime.isNegative()) {
      throw new IllegalArgumentException(
          "working time " + minutes(workingTime) + " min must be above 0 min");
    }
    if (gelTime.compareTo(LONGEST_GEL) > 0) {
      throw new IllegalArgumentException(
          "gel time " + minutes(gelTime) + " min must be at most 1440 min");
    }
    if (workingTime.compareTo(gelTime) > 0) {
      throw new IllegalArgumentException(
          "working time "
              + minutes(workingTime)
              + " min must not be longer than the gel time, "
              + minutes(gelTime)
              + " min");
    }
    RangeCheck.positive("emission against 25 degC", warmth, 20, "");
    if (areaM2.isPresent()) {
      RangeCheck.positive("wet area", areaM2.getAsDouble(), 10_000, "m2");
    }
  }

  /** A layup of resin alone, of unknown area. */
  public static Layup of(Batch resin, Duration workingTime, Duration gelTime) {
    return new Layup(resin, Optional.empty(), workingTime, gelTime, OptionalDouble.empty(), 1);
  }

  /** The same layup with gel coat. */
  public Layup withGelCoat(Batch batch) {
    return new Layup(resin, Optional.of(batch), workingTime, gelTime, areaM2, warmth);
  }

  /** The same layup with its wet area, m2. */
  public Layup withArea(double m2) {
    return new Layup(resin, gelCoat, workingTime, gelTime, OptionalDouble.of(m2), warmth);
  }

  /**
   * The same layup in air of this temperature. The rules were fitted to whole shops and say no
   * temperature: 25 degC is taken, and the emission goes with styrene's vapor pressure (this
   * project's own choice; a film that dries below the air's temperature gives off less).
   *
   * @param airC -20 to 60 degC
   */
  public Layup inAirOf(double airC) {
    double factor = Styrene.saturationPpm(airC) / Styrene.saturationPpm(REFERENCE_C);
    return new Layup(resin, gelCoat, workingTime, gelTime, areaM2, factor);
  }

  /** Vapor given off in all, g. */
  public double emittedGrams() {
    return warmth * (resin.emittedGrams() + gelCoat.map(Batch::emittedGrams).orElse(0.0));
  }

  private static double minutes(Duration duration) {
    return duration.toSeconds() / 60.0;
  }
}
