package org.layroom.predictor.room;

/** One quantity from its newest slot on: the likely course and the spread around it. */
final class Outlook {
  private final long slot;
  private final RhythmFilter filter;
  private final double[] expected;
  private final double[] correction;
  private final double[] relative;
  private final double[][] shapes;
  private final Reach reach;

  Outlook(long slot, RhythmFilter filter, SeriesModel.Knots knots, double[][] shapes, Reach reach) {
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

  /** The value at which a normal score lies, some slots ahead; the likely one for a score of 0. */
  double value(double lead, double score, double doubt) {
    return reach.within(likely(lead) + (score == 0 ? 0 : away(lead, score, doubt)));
  }

  /** The distance from the likely value at which a normal score lies, same sign as the score. */
  private double away(double lead, double score, double doubt) {
    double share = 2 * NormalScores.share(Math.abs(score)) - 1;
    return Math.copySign(meanAbsolute(lead, doubt) * shape(lead, share), score);
  }

  /** Mean absolute error foreseen some slots ahead. */
  double meanAbsolute(double lead, double doubt) {
    return doubt * Leads.between(relative, relative[0], lead);
  }

  /** The filter's own doubt some slots ahead. */
  double doubt(double lead) {
    int below = (int) lead;
    double from = filter.relativeSd(below);
    return from + (lead - below) * (filter.relativeSd(below + 1) - from);
  }

  private double shape(double lead, double share) {
    double[] at = new double[Leads.COUNT];
    int k = 0;
    while (k < Leads.COUNT - 1 && Leads.slots(k) < lead) {
      k++;
    }
    for (int i = Math.max(0, k - 1); i <= k; i++) {
      at[i] = ErrorBand.quantile(shapes[i], share);
    }
    return Leads.between(at, at[0], Math.min(lead, Leads.LONGEST));
  }
}
