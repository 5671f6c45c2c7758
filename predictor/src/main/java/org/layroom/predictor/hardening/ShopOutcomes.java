package org.layroom.predictor.hardening;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * What a shop's parts have taught of its cans. A can's place among all cans is half the shop's (its
 * hands, its thermometer, what it calls hard) and half its own: the variance is halved (chosen).
 * Every outcome is one update of the sum, by {@link DemoldBelief}, spread over both parts in
 * proportion to their covariance with it: still closed form. Applied in the order of age.
 */
public final class ShopOutcomes {
  /** Weight of the shop's part and of the can's own: each carries half of the variance. */
  private static final double HALF = StrictMath.sqrt(0.5);

  private final List<PartOutcome> outcomes;
  private final Map<String, Integer> places = new LinkedHashMap<>();
  private final double[] mean;
  private final double[][] covariance;

  private ShopOutcomes(List<PartOutcome> outcomes) {
    this.outcomes = outcomes;
    for (PartOutcome outcome : outcomes) {
      places.putIfAbsent(outcome.can(), places.size() + 1);
    }
    int size = places.size() + 1;
    mean = new double[size];
    covariance = new double[size][size];
    for (int i = 0; i < size; i++) {
      covariance[i][i] = 1;
    }
  }

  /** What outcomes teach, given in any order. */
  public static ShopOutcomes of(List<PartOutcome> outcomes) {
    List<PartOutcome> byAge = new ArrayList<>(outcomes);
    byAge.sort(Comparator.comparingDouble(part -> part.outcome().age().hours()));
    ShopOutcomes shop = new ShopOutcomes(byAge);
    byAge.forEach(shop::observe);
    return shop;
  }

  private void observe(PartOutcome part) {
    int own = places.getOrDefault(part.can(), 0);
    double scale = part.expected().canSdLn();
    double[] towards = new double[mean.length];
    for (int i = 0; i < towards.length; i++) {
      towards[i] = HALF * (covariance[i][0] + covariance[i][own]);
    }
    double variance = HALF * (towards[0] + towards[own]);
    double place = HALF * (mean[0] + mean[own]);
    DemoldBelief before =
        new DemoldBelief(
            part.expected().lnHours() + scale * place, scale * StrictMath.sqrt(variance));
    DemoldBelief after = before.observing(part.outcome().seen(part.expected().partSdLn()));
    double moved = (after.lnHours() - before.lnHours()) / scale / variance;
    double left = after.sdLn() / before.sdLn();
    double less = (1 - left * left) / variance;
    for (int i = 0; i < towards.length; i++) {
      mean[i] += towards[i] * moved;
      for (int j = 0; j < towards.length; j++) {
        covariance[i][j] -= towards[i] * towards[j] * less;
      }
    }
  }

  /** What is known of a can, also of one that has no outcome yet. */
  public Learned of(String can) {
    int ownCount = (int) outcomes.stream().filter(part -> part.can().equals(can)).count();
    Integer own = places.get(can);
    double place = mean[0] + (own == null ? 0 : mean[own]);
    double variance =
        own == null
            ? covariance[0][0] + 1
            : covariance[0][0] + 2 * covariance[0][own] + covariance[own][own];
    return new Learned(
        HALF * place,
        StrictMath.sqrt(Math.max(0, Math.min(1, variance / 2))),
        ownCount,
        outcomes.size() - ownCount);
  }
}
