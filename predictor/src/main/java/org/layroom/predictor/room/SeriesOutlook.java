package org.layroom.predictor.room;

/** One quantity from its newest slot on: the likely course and the spread around it. */
final class SeriesOutlook {
  private final long slot;
  private final RhythmFilter filter;
  private final double[] expected;
  private final double[] correction;
  private final double[] relative;
  private final double[][] shapes;
  private final ShownRange reach;

  SeriesOutlook(
      long slot,
      RhythmFilter filter,
      SeriesModel.Knots knots,
      double[][] shapes,
      ShownRange reach) {
    this.reach = reach;
    this.slot = slot;
    this.filter = filter;
    this.shapes = shapes;
    expected = filter.expected(2 * Leads.LONGEST);
    correction = new double[Leads.COUNT];
    for (int k = 0; k < Leads.COUNT; k++) {
      correction[k] = knots.answer[k] - knots.expected[k];
    }
    relative = knots.shown;
  }

  long slot() {
    return slot;
  }

  RhythmFilter filter() {
    return filter;
  }

  /** The likely value, some slots ahead. */
  private double likely(double lead) {
    int below = (int) lead;
    double base = expected[below] + (lead - below) * (expected[below + 1] - expected[below]);
    return base + Leads.between(correction, 0, lead);
  }

  /** What may be expected some slots ahead. */
  Spread at(double lead) {
    double near = Math.min(lead, Leads.LONGEST);
    int k = 0;
    while (k < Leads.COUNT - 1 && Leads.slots(k) < near) {
      k++;
    }
    double mix = k == 0 ? 1 : (near - Leads.slots(k - 1)) / (Leads.slots(k) - Leads.slots(k - 1));
    return new Spread(
        reach.likely(likely(lead)),
        doubt(lead) * Leads.between(relative, relative[0], lead),
        shapes[Math.max(0, k - 1)],
        shapes[k],
        mix);
  }

  /** What may be expected at one lead. */
  final class Spread {
    private final double likely;
    private final double meanAbsolute;

    /** Shapes of the errors at the knots around, in rising order. */
    private final double[] before;

    private final double[] after;

    /** How near the later knot is, 0 to 1. */
    private final double mix;

    private Spread(
        double likely, double meanAbsolute, double[] before, double[] after, double mix) {
      this.likely = likely;
      this.meanAbsolute = meanAbsolute;
      this.before = before;
      this.after = after;
      this.mix = mix;
    }

    double likely() {
      return likely;
    }

    /** The value at which a normal score lies. */
    double value(double score) {
      double share = NormalScores.shareWithin(Math.abs(score));
      double shape =
          (1 - mix) * ErrorBand.quantile(before, share) + mix * ErrorBand.quantile(after, share);
      return reach.possible(likely + Math.copySign(meanAbsolute * shape, score));
    }
  }

  /** The filter's own doubt some slots ahead. */
  private double doubt(double lead) {
    int below = (int) lead;
    double from = filter.relativeSd(below);
    return from + (lead - below) * (filter.relativeSd(below + 1) - from);
  }
}
