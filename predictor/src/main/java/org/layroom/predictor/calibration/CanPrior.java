package org.layroom.predictor.calibration;

import java.util.List;
import org.layroom.predictor.cure.ArrheniusRate;
import org.layroom.predictor.cure.MaterialPosterior;
import org.layroom.predictor.cure.PriorSpreads;

/**
 * What is believed of a can before any gel test. Activation energy and dose exponent have heavier
 * tails than a normal: published pairs run from 31 to 91 kJ/mol and from 0.3 to 1.2. Each is one of
 * two normals of the same middle, most cans near it and some far off (chosen, so that the band of
 * gel holds 70 % of the cans at 95 kJ/mol and at an exponent of 0.3). What one thermometer puts
 * into all readings of a shop is part of the gel time: it changes by less than a tenth of itself
 * from 10 to 30 degC.
 *
 * @param belief all kinds of can together
 * @param possible the kinds of can that it may be, their weights adding up to 1
 */
record CanPrior(MaterialPosterior belief, List<Possible> possible) {
  /**
   * One kind of can.
   *
   * @param weight how likely it is
   */
  record Possible(double weight, MaterialPosterior belief) {}

  /** Share and factor on the spread. */
  private record Part(double share, double factor) {}

  private static final List<Part> EA = List.of(new Part(0.82, 0.82), new Part(0.18, 1.52));
  private static final List<Part> DOSE_EXPONENT =
      List.of(new Part(0.55, 0.6), new Part(0.45, 1.86));

  CanPrior {
    possible = List.copyOf(possible);
  }

  /** A can of which nothing but its data sheet's gel time is known. */
  static CanPrior untested(MaterialPosterior typical) {
    MaterialPosterior read = asRead(typical);
    return new CanPrior(
        read.stretched(spread(EA), spread(DOSE_EXPONENT)),
        EA.stream()
            .flatMap(
                ea ->
                    DOSE_EXPONENT.stream()
                        .map(
                            n ->
                                new Possible(
                                    ea.share() * n.share(),
                                    read.stretched(ea.factor(), n.factor()))))
            .toList());
  }

  private static double spread(List<Part> parts) {
    return StrictMath.sqrt(
        parts.stream().mapToDouble(part -> part.share() * part.factor() * part.factor()).sum());
  }

  /** A can whose activation energy and dose exponent a table of gel times gives. */
  static CanPrior fitted(MaterialPosterior table) {
    return known(asRead(table));
  }

  /** One belief without alternatives. */
  static CanPrior known(MaterialPosterior belief) {
    return new CanPrior(belief, List.of(new Possible(1, belief)));
  }

  /** The gel time as this shop's thermometer reads it. */
  private static MaterialPosterior asRead(MaterialPosterior belief) {
    double atC = belief.referenceC();
    double perKelvin = new ArrheniusRate(belief.sheetEa(), atC).slope(atC, 1);
    return belief.doubting(PriorSpreads.SHARED_K * perKelvin);
  }
}
