package org.layroom.predictor.hardening;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.layroom.testing.Seed;

/** What parts teach of their can, and of the other cans of the shop. */
class ShopOutcomesTest {
  private static final PriorHours THIN = Hardening.typical().prior(20, 20);

  private static PartOutcome part(String can, Outcome.Kind kind, double hours) {
    return new PartOutcome(can, THIN, Outcome.of(kind, new PartAge(hours, 0)));
  }

  // The rows of DemoldBeliefTest again, through the shop: soft 8, hard 16 and fine at 24 h five
  // times (computed outside this project).
  @Test
  void oneCanAloneLearnsAsTheFormulaSays() {
    ShopOutcomes pair =
        ShopOutcomes.of(List.of(part("a", Outcome.Kind.HARD, 16), part("a", Outcome.Kind.SOFT, 8)));
    DemoldBelief after = THIN.with(pair.of("a"));
    assertEquals(2.412892, after.lnHours(), 2e-5);
    assertEquals(0.358530, after.sdLn(), 5e-6);
    List<PartOutcome> fine = new ArrayList<>();
    for (int i = 0; i < 5; i++) {
      fine.add(part("a", Outcome.Kind.FINE, 24));
    }
    DemoldBelief five = THIN.with(ShopOutcomes.of(fine).of("a"));
    assertEquals(2.078348, five.lnHours(), 2e-5);
    assertEquals(0.432007, five.sdLn(), 5e-6);
  }

  @Test
  void halfOfItIsSharedWithTheOtherCansOfTheShop() {
    ShopOutcomes shop = ShopOutcomes.of(List.of(part("a", Outcome.Kind.SOFT, 24)));
    DemoldBelief own = THIN.with(shop.of("a"));
    DemoldBelief other = THIN.with(shop.of("b"));
    assertEquals((own.lnHours() - Math.log(12)) / 2, other.lnHours() - Math.log(12), 1e-12);
    assertTrue(other.sdLn() > own.sdLn() && other.sdLn() < 0.70);
    assertEquals("0 outcomes of this can and 1 of other cans in this shop", shop.of("b").words());
    assertEquals("1 outcome of this can", shop.of("a").words());
    assertEquals("no part of yours yet", Learned.nothing().words());
  }

  @Test
  void thePlaceOfACanCountsAtItsOwnDoseAndThickness() {
    // Soft at 24 h of a slow can (40 min: 19.5 h expected) says less than of a quick one.
    PriorHours slow = Hardening.typical().prior(40, 40);
    Outcome soft = Outcome.of(Outcome.Kind.SOFT, new PartAge(24, 0));
    Learned ofSlow = ShopOutcomes.of(List.of(new PartOutcome("a", slow, soft))).of("a");
    Learned ofQuick = ShopOutcomes.of(List.of(new PartOutcome("a", THIN, soft))).of("a");
    assertTrue(ofSlow.mean() < ofQuick.mean());
  }

  // Thickness of the thinnest place: 1 to 2 mm, 0.8 at 3 mm, 0.5 from 4 mm on, with 0.3 more
  // spread from 3 mm on (chosen).
  @Test
  void aThickPartIsHardSoonerAndLessSurely() {
    for (double[] row :
        new double[][] {{1, 12, 0.70}, {2, 12, 0.70}, {3, 9.6, 0.7616}, {8, 6, 0.7616}}) {
      DemoldBelief belief =
          Hardening.typical()
              .thinnest(OptionalDouble.of(row[0]))
              .prior(20, 20)
              .with(Learned.nothing());
      assertEquals(row[1], belief.medianHours(), 1e-9);
      assertEquals(row[2], belief.sdLn(), 0.0001);
    }
  }

  /**
   * Ten parts of a can drawn from the prior: the truth by java.util.Random and the printed
   * formulas. Nail tests at the age that the program asks for, one a part; or "came out fine or
   * not" at a day.
   */
  @Test
  void tenPartsNarrowTheBandAndItStaysHonest() {
    Random random = new Random(Seed.value());
    int cases = 2000;
    for (boolean nail : new boolean[] {true, false}) {
      double[] ratios = new double[cases];
      int inside = 0;
      for (int k = 0; k < cases; k++) {
        double truth = Math.log(12) + 0.70 * random.nextGaussian();
        List<PartOutcome> parts = new ArrayList<>();
        for (int i = 0; i < 10; i++) {
          DemoldBelief now = THIN.with(ShopOutcomes.of(parts).of("a"));
          double hours = nail ? NailTest.of(now).hours() : 24;
          double criterion = nail ? 0.25 : 0.35;
          boolean hard = Math.log(hours) > truth + criterion * random.nextGaussian();
          Outcome.Kind kind =
              nail
                  ? hard ? Outcome.Kind.HARD : Outcome.Kind.SOFT
                  : hard ? Outcome.Kind.FINE : Outcome.Kind.CAME_OUT_SOFT;
          parts.add(part("a", kind, hours));
        }
        DemoldBelief after = THIN.with(ShopOutcomes.of(parts).of("a"));
        ratios[k] = after.latestHours() / after.earliestHours();
        inside +=
            truth >= Math.log(after.earliestHours()) && truth <= Math.log(after.latestHours())
                ? 1
                : 0;
      }
      Arrays.sort(ratios);
      double share = 100.0 * inside / cases;
      System.out.printf(
          "%s: 90/10 ratio median %.2f, worst of ten %.2f; truth inside %.1f %%%n",
          nail ? "ten nail tests" : "ten parts at 24 h",
          ratios[cases / 2],
          ratios[9 * cases / 10],
          share);
      // Ten answers at one age tell where the truth is not, ten times the same: the moment update
      // is
      // a little too sure of it. Answers at ages that differ are honest.
      assertTrue(share > (nail ? 75 : 70) && share < 85, "inside " + share + " %");
      if (nail) {
        assertTrue(ratios[9 * cases / 10] < 2.2, "ratio " + ratios[9 * cases / 10]);
      }
    }
  }

  // 12 h of any can; soft at 24 h once: 31.654 h (computed outside this project); a part that
  // carries
  // load at least 41.2237 h.
  @Test
  void theLikelyTimeKnowsWhatPartsHaveTaughtAndTheFloor() {
    List<PartOutcome> soft = List.of(part("a", Outcome.Kind.SOFT, 24));
    assertEquals(12, Hardening.typical().likelyHours(20, 20), 1e-9);
    assertEquals(31.654, Hardening.typical().taughtBy(soft, "a").likelyHours(20, 20), 0.002);
    assertEquals(
        41.2237, Hardening.typical().carryingLoad(true).likelyHours(20, 20), 1e-9, "the floor");
  }

  @Test
  void tenPartsThatCameOutFineAtADay() {
    List<PartOutcome> fine = new ArrayList<>();
    for (int i = 0; i < 10; i++) {
      fine.add(part("a", Outcome.Kind.FINE, 24));
    }
    DemoldBelief after = THIN.with(ShopOutcomes.of(fine).of("a"));
    double ratio = after.latestHours() / after.earliestHours();
    assertTrue(ratio < 2.8, "ratio " + ratio);
  }
}
