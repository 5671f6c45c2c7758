package org.layroom.predictor.calibration;

import java.util.ArrayList;
import java.util.List;
import org.layroom.predictor.cure.MaterialPosterior;

/**
 * Gel tests of which some may be mistaken: a tap that came late, a cup mixed wrong, a thermometer
 * in the sun. Every way in which the newest tests can be good or mistaken is one explanation, for
 * each kind of can that it may be ({@link CanPrior}), weighed by how likely it makes what was seen
 * (a Gaussian sum). Tests that agree narrow the belief as before; tests that contradict each other
 * leave several explanations standing, and the belief is as wide as they lie apart. It does not
 * matter in which order they were made.
 */
final class GelTestExplanations {
  /** How often a test is mistaken (chosen). */
  private static final double MISTAKEN = 0.008;

  /** Spread of the logarithm of a mistaken gel time (chosen: off by a factor of e). */
  private static final double MISTAKEN_SD_LN = 1.0;

  /** So many of the newest tests are weighed against each other: 128 explanations. */
  private static final int WEIGHED = 7;

  private final MaterialPosterior untested;
  private final List<GelTest> tests;
  private final List<MaterialPosterior> beliefs = new ArrayList<>();
  private final List<Double> lnWeights = new ArrayList<>();
  private final List<boolean[]> mistakes = new ArrayList<>();
  private final double[] weights;

  private GelTestExplanations(CanPrior prior, List<GelTest> tests) {
    this.untested = prior.belief();
    this.tests = tests;
    for (CanPrior.Possible can : prior.possible()) {
      explain(can.belief(), 0, new boolean[tests.size()], StrictMath.log(can.weight()));
    }
    weights = new double[beliefs.size()];
    double most = lnWeights.stream().mapToDouble(Double::doubleValue).max().orElse(0);
    double sum = 0;
    for (int k = 0; k < weights.length; k++) {
      weights[k] = StrictMath.exp(lnWeights.get(k) - most);
      sum += weights[k];
    }
    for (int k = 0; k < weights.length; k++) {
      weights[k] /= sum;
    }
  }

  /** Weighs the newest tests; older ones have each been weighed when they were among these. */
  static GelTestExplanations of(CanPrior untested, List<GelTest> tests) {
    if (tests.size() <= WEIGHED) {
      return new GelTestExplanations(untested, tests);
    }
    List<GelTest> older = tests.subList(0, tests.size() - WEIGHED);
    CanPrior before = untested;
    for (int from = 0; from < older.size(); from += WEIGHED) {
      List<GelTest> some = older.subList(from, Math.min(older.size(), from + WEIGHED));
      before = CanPrior.known(new GelTestExplanations(before, some).belief());
    }
    return new GelTestExplanations(before, tests.subList(older.size(), tests.size()));
  }

  private void explain(MaterialPosterior belief, int next, boolean[] mistaken, double lnWeight) {
    if (next == tests.size()) {
      beliefs.add(belief);
      lnWeights.add(lnWeight);
      mistakes.add(mistaken.clone());
      return;
    }
    GelTest test = tests.get(next);
    double good = test.sdLn(untested);
    mistaken[next] = false;
    explain(
        seen(belief, test, good),
        next + 1,
        mistaken,
        lnWeight + StrictMath.log(1 - MISTAKEN) + evidence(belief, test, good));
    double bad = StrictMath.hypot(good, MISTAKEN_SD_LN);
    mistaken[next] = true;
    explain(
        seen(belief, test, bad),
        next + 1,
        mistaken,
        lnWeight + StrictMath.log(MISTAKEN) + evidence(belief, test, bad));
  }

  private static MaterialPosterior seen(MaterialPosterior belief, GelTest test, double sdLn) {
    return belief.observing(
        test.temperatureC(), test.doseByWeightPct(), test.film(), test.minutes(), sdLn);
  }

  private static double evidence(MaterialPosterior belief, GelTest test, double sdLn) {
    return belief.lnEvidence(
        test.temperatureC(), test.doseByWeightPct(), test.film(), test.minutes(), sdLn);
  }

  /** What is believed after them. */
  MaterialPosterior belief() {
    return MaterialPosterior.oneOf(beliefs, weights);
  }

  /** The tests that are as likely mistaken as not, of the newest, oldest first. */
  List<GelTest> doubtful() {
    List<GelTest> doubtful = new ArrayList<>();
    for (int test = 0; test < tests.size(); test++) {
      double share = 0;
      for (int k = 0; k < weights.length; k++) {
        share += mistakes.get(k)[test] ? weights[k] : 0;
      }
      if (share >= 0.5) {
        doubtful.add(tests.get(test));
      }
    }
    return doubtful;
  }
}
