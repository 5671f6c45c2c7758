package org.layroom.dashboard.alarms.second;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Random;
import java.util.function.Predicate;
import org.junit.jupiter.api.Test;
import org.layroom.dashboard.alarms.Happening;
import org.layroom.dashboard.alarms.Moment;
import org.layroom.dashboard.alarms.Shop;

/** The second simulation's physics, against figures that were reckoned by hand or published. */
class SecondShopsTest {
  private static final Chip.Make CHIP =
      new Chip.Make(0.2, 0.5, 0.6, 0.1, 0.005, 50, 0, 1e9, 1, 30000);

  /** Constant source, V 50 m3, Q 300 m3/h, 30 g/h: G/Q = 100 mg/m3; 63.212 % after ten minutes. */
  @Test
  void aConstantSourceNearsGOverQ() {
    Boxes room = new Boxes(50, 300, 0);
    room.go(600, 30000.0 / 3600, 6);
    assertEquals(63.212, room.at(0), 0.5);
    room.go(6 * 3600, 30000.0 / 3600, 6);
    assertEquals(100, room.at(0), 0.1);
  }

  /** Near the work it is richer by G / beta: 10 mg/s over 5 m3/min = 120 mg/m3. */
  @Test
  void nearTheWorkItIsRicherByGOverBeta() {
    Boxes room = new Boxes(40, 5, 0);
    room.go(24 * 3600, 10, 6);
    assertEquals(120, room.at(1) - room.at(0), 0.1);
  }

  /** CDC 2003, appendix B: at 6 air changes 90 % is gone after 23 min and 99 % after 46. */
  @Test
  void vaporLeavesAsExpOfMinusNt() {
    Boxes room = new Boxes(40, 300, 100);
    room.go(23 * 60, 0, 6);
    assertEquals(100 * Math.exp(-2.3), room.at(0), 0.4);
    room.go(23 * 60, 0, 6);
    assertEquals(100 * Math.exp(-4.6), room.at(0), 0.1);
  }

  /** NIOSH Pocket Guide: 1 ppm of styrene is 4.26 mg/m3 at 25 degC. */
  @Test
  void ppmAreAsNioshHasThem() {
    assertEquals(1, Boxes.ppm(4.26, 104.15, 25), 0.001);
  }

  /** 40 CFR 63 Subpart VVVV Table 3: resin 35 % 45.59, gel coat 40 % 214.69 g/kg. */
  @Test
  void aLayupGivesOffWhatTheTableSays() {
    assertEquals(45.59, new Source.Layup(0, 900, 1, 35, false, 25).grams(), 0.01);
    assertEquals(214.69, new Source.Layup(0, 900, 1, 40, true, 25).grams(), 0.01);
  }

  /** All of it comes off: the sum over ten days is the table's figure, the cap left out. */
  @Test
  void aSlowLayupLosesAllOfIt() {
    Source.Layup slow = new Source.Layup(0, 7200, 1, 42, false, 25);
    double grams = 0;
    for (int second = 5; second < 10 * 86400; second += 10) {
      grams += slow.rate(second, 25) * 10 / 1000;
    }
    assertEquals(slow.grams(), grams, 0.01 * slow.grams());
  }

  /** Landolt-Boernstein: 449.9 Pa at 15 degC and 1115.3 at 30, against 834.2 at 25. */
  @Test
  void warmResinGivesOffMore() {
    assertEquals(449.9 / 834.2, Source.vaporPressureRatio(15), 0.001);
    assertEquals(1115.3 / 834.2, Source.vaporPressureRatio(30), 0.001);
  }

  /** 15.5 ppm over 0.5 is 32 times = 5 doublings; times 0.6 that is 3 doublings, 2610 ticks. */
  @Test
  void aChipsLevelIsAPower() {
    assertEquals(2610, CHIP.fall(16), 0.5);
    assertEquals(8, CHIP.level(15.5 / 0.2), 0.01);
  }

  @Test
  void aChipIsFlatAtItsEnd() {
    Chip.Make flat = new Chip.Make(1, 0.5, 0.6, 0.1, 0.005, 50, 0, 8, 1, 30000);
    assertEquals(8, flat.level(1000), 0.01);
    assertEquals(8, flat.level(4000), 0.001);
  }

  /** Without noise it would be one; with it a chip in clean, even air stays near its reading. */
  @Test
  void aSettledChipInCleanAirStaysNearItsReading() {
    Weather.Climate even = new Weather.Climate(20, 0, 50, 0, 0);
    Chip chip = new Chip(CHIP, even, new Random(7));
    for (int read = 0; read < 360; read++) {
      assertEquals(30000, chip.read(10, 0, 20, 50, true), 400);
    }
  }

  /** 45 ppm of styrene are 100 of isobutylene at 0.45; 25 % low that is 75. */
  @Test
  void aDetectorReadsAQuarterLow() {
    Detector.Make make = new Detector.Make(0.45, 2000, 1);
    assertEquals(75, make.reading(45, 0, 0, 40), 1e-9);
    assertEquals(60, make.reading(45, 0, 0, 80), 1e-9);
  }

  /** Saturated air holds 17.3 g/m3 at 20 degC (common tables, from memory). */
  @Test
  void airHoldsSoMuchWater() {
    assertEquals(17.3, Weather.waterGramsPerM3(20, 100), 0.1);
  }

  @Test
  void aSeedGivesTheSameAgain() {
    Shop shop = new SecondShops().all().get(0);
    assertEquals(shop.moments(5).toList(), shop.moments(5).toList());
    assertNotEquals(shop.moments(6).toList(), shop.moments(5).toList());
  }

  @Test
  void thereAreOverFortyScenariosWithSixSensors() {
    List<Shop> all = new SecondShops().all();
    assertTrue(all.stream().map(Shop::scenario).distinct().count() > 40);
    assertEquals(6, all.stream().map(Shop::sensitivity).distinct().count());
    assertEquals(
        all.size(), all.stream().map(one -> one.scenario() + one.sensitivity()).distinct().count());
  }

  /** What is meant to be deadly is, and what is meant to be clean is. */
  @Test
  void theScenariosAreWhatTheyAreCalled() {
    assertTrue(worst("shut garage, no job told") > 200);
    assertTrue(worst("fan fails in a first job") > 200);
    double aired = worst("aired job, fan");
    assertTrue(aired > 10 && aired < 200, () -> aired + " ppm");
    assertEquals(0, worst("quiet days, spring"));
  }

  private static double worst(String scenario) {
    return shop(one -> one.scenario().equals(scenario))
        .moments(1)
        .mapToDouble(Moment::styrenePpm)
        .max()
        .orElseThrow();
  }

  @Test
  void aFailingSensorFailsAsOftenAsItIsSaid() {
    List<Moment> moments =
        shop(one -> one.scenario().equals("1 read in 20 fails")).moments(1).toList();
    long failed =
        moments.stream()
            .filter(
                one -> one.happenings().stream().anyMatch(Happening.ReadFailed.class::isInstance))
            .count();
    assertEquals(0.05, (double) failed / moments.size(), 0.01);
  }

  private static Shop shop(Predicate<Shop> which) {
    return new SecondShops().all().stream().filter(which).findFirst().orElseThrow();
  }
}
