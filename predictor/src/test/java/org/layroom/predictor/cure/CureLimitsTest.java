package org.layroom.predictor.cure;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.DoubleFunction;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.hardening.Hardening;
import org.layroom.predictor.material.MaterialKind;

/** Each stated range holds up to its ends; paths, bands and names are what they say. */
class CureLimitsTest {
  private static void range(DoubleFunction<?> make, double min, double max) {
    assertDoesNotThrow(() -> make.apply(min));
    assertDoesNotThrow(() -> make.apply(max));
    assertThrows(IllegalArgumentException.class, () -> make.apply(min - 0.001));
    assertThrows(IllegalArgumentException.class, () -> make.apply(max + 0.001));
    assertThrows(IllegalArgumentException.class, () -> make.apply(Double.NaN));
  }

  private static ClockInputs inputs(int place, double value) {
    double[] v = {1.5, 0.05, 1, 1, 24};
    v[place] = value;
    TemperatureOutlook room = TemperatureOutlook.constant(20);
    MaterialPosterior resin = MaterialPosterior.untested(20, 20, 1.5, 54, 0.9);
    return new ClockInputs(
        resin,
        MaterialKind.GEL_COAT,
        v[0],
        v[1],
        room,
        v[2],
        room,
        v[3],
        Hardening.typical().claiming(OptionalDouble.of(v[4])));
  }

  @Test
  void rangesAreAsStated() {
    range(c -> new TemperaturePoint(0, c), -60, 200);
    range(c -> new ArrheniusRate(54, c), -60, 200);
    assertDoesNotThrow(() -> new ArrheniusRate(400, 20));
    range(d -> new ColdHourRate(new ArrheniusRate(54, 20), d), 0, 1);
    range(v -> inputs(1, v), 0, 0.5);
    range(v -> inputs(2, v), 0, 10);
    range(v -> inputs(3, v), 0, 10);
    assertDoesNotThrow(() -> inputs(0, 10));
    assertDoesNotThrow(() -> inputs(4, 10_000));
    assertThrows(IllegalArgumentException.class, () -> inputs(0, 10.1));
    assertThrows(IllegalArgumentException.class, () -> inputs(0, 0));
    assertThrows(IllegalArgumentException.class, () -> inputs(4, 0));
    assertThrows(IllegalArgumentException.class, () -> inputs(4, 10_001));
    IllegalArgumentException zero =
        assertThrows(IllegalArgumentException.class, () -> inputs(4, 0));
    assertTrue(String.valueOf(zero.getMessage()).contains("above 0"));
    IllegalArgumentException negative =
        assertThrows(IllegalArgumentException.class, () -> inputs(1, -1));
    assertTrue(String.valueOf(negative.getMessage()).contains("zero or more"));
    double[] good = {20, 20, 1.5, 54, 0.9};
    for (int place : new int[] {0, 2, 3, 4}) {
      double[] v = good.clone();
      v[place] = 0;
      assertThrows(
          IllegalArgumentException.class,
          () -> MaterialPosterior.untested(v[0], v[1], v[2], v[3], v[4]));
    }
    MaterialPosterior belief = MaterialPosterior.untested(20, 20, 1.5, 54, 0.9);
    assertThrows(IllegalArgumentException.class, () -> belief.observing(20, 1.5, false, 0, 0.1));
    assertThrows(IllegalArgumentException.class, () -> belief.observing(20, 1.5, false, 20, 0));
  }

  // Plausible 33 to 78 kJ/mol is 5 to 95 % (published pairs run 31 to 91): 45 / 3.2897.
  @Test
  void theSpreadOfTheActivationEnergyIsAsPrinted() {
    MaterialPosterior belief = MaterialPosterior.untested(20, 20, 1.5, 54, 0.9);
    assertEquals(13.679, belief.sdEa(), 0.0005);
    assertEquals(0.40, belief.sdLnGel(20, 1.5, false), 1e-12);
    assertEquals(0.5, belief.doubting(0.3).sdLnGel(20, 1.5, false), 1e-12);
    // 0.40 and ln 2 / 3.2897 together.
    assertEquals(Math.hypot(0.40, 0.2107), belief.sdLnGel(20, 1.5, true), 0.0001);
  }

  @Test
  void aPathIsReadBetweenItsPoints() {
    TemperaturePath path =
        TemperaturePath.of(
            List.of(
                new TemperaturePoint(10, 18),
                new TemperaturePoint(20, 20),
                new TemperaturePoint(20, 24),
                new TemperaturePoint(40, 16)));
    assertEquals(18, path.at(0));
    assertEquals(18, path.at(10));
    assertEquals(18.5, path.at(12.5));
    assertEquals(24, path.at(20), "at a step the later value");
    assertEquals(20, path.at(30));
    assertEquals(16, path.at(40));
    assertEquals(16, path.at(100));
    assertEquals(16, path.lowest());
    assertEquals(40, path.endMinutes());
    assertEquals(18, path.meanUntil(0));
    assertEquals(18, path.meanUntil(10));
    // By hand: 10 x 18 + 10 x 19 + 10 x 22 over 30 min; then 10 x 18 and 10 x 16 over 50 min.
    assertEquals((180 + 190 + 220) / 30.0, path.meanUntil(30), 1e-12);
    assertEquals((180 + 190 + 220 + 180 + 160) / 50.0, path.meanUntil(50), 1e-12);
    TemperaturePath joined = path.then(15, TemperaturePath.constant(5));
    assertEquals(18.8, joined.at(14), 1e-12);
    assertEquals(5, joined.at(15));
    assertEquals(5, joined.at(16));
    assertEquals(5, path.then(0, TemperaturePath.constant(5)).at(0));
    assertThrows(IllegalArgumentException.class, () -> path.then(-1, path));
  }

  @Test
  void anOutlookSharesItsPathsEvenly() {
    TemperatureOutlook outlook =
        new TemperatureOutlook(List.of(TemperaturePath.constant(10), TemperaturePath.constant(20)));
    assertEquals(10, outlook.path(0).at(0));
    assertEquals(10, outlook.path(0.499).at(0));
    assertEquals(20, outlook.path(0.5).at(0));
    assertEquals(20, outlook.path(1).at(0));
    assertEquals(15, outlook.meanUntil(100));
  }

  @Test
  void aBandCanBeScaledAndCut() {
    assertEquals(new Band(2, 4, 6), new Band(1, 2, 3).times(2));
    double never = Double.POSITIVE_INFINITY;
    assertEquals(new Band(1, 2, never), new Band(1, 2, 3).cutAfter(2));
  }

  // Published charts of 73 to 91 kJ/mol in the cold: steeper below what is known, alike above.
  @Test
  void theSteepLawIsSteepInTheColdOnly() {
    ArrheniusRate warm = new ArrheniusRate(54, 20);
    SteepColdRate steep = new SteepColdRate(warm, 18, 75);
    assertEquals(warm.rate(19), steep.rate(19));
    double perK = 1 / 281.15 - 1 / 291.15;
    assertEquals(warm.rate(18) * Math.exp(-75 / 8.314462618e-3 * perK), steep.rate(8), 1e-12);
    assertEquals(1, steep.kinks());
    assertEquals(18, steep.kinkC(0));
  }

  @Test
  void degreeHoursStopAtTheDatumExactly() {
    DegreeHourRate law = DegreeHourRate.degreesAbove(7);
    assertEquals(0, law.rate(7));
    assertEquals(0, law.slope(7, 0));
    assertEquals(3, law.rate(10), 1e-12);
    assertEquals(1, law.slope(8, 1), 1e-12);
  }

  @Test
  void stageNamesAreTheContracts() {
    assertEquals(
        List.of(
            "stop-wetting-out",
            "gel",
            "film-gel",
            "exotherm",
            "green-trim",
            "ready-to-laminate",
            "demold",
            "full-cure"),
        Arrays.stream(Stage.values()).map(Stage::id).toList());
  }

  @Test
  void everySpreadWidensItsStage() {
    // 0.6 to 0.8 and 3.5 to 4.5 as 5 to 95 %, on top of the gel time's own 0.40, 1 K and 5 % dose.
    double gel = 0.16 + 0.07557 * 0.07557 + 0.045 * 0.045;
    List<StageTime> stages = CureClocks.stages(inputs(0, 1.5));
    assertEquals(
        Math.sqrt(gel + Math.pow(Math.log(0.8 / 0.6) / 3.2897, 2)), sd(stages.get(0)), 0.002);
    assertEquals(Math.sqrt(gel), sd(stages.get(1)), 0.0005);
    assertEquals(Math.sqrt(gel + Math.pow(Math.log(2) / 3.2897, 2)), sd(stages.get(2)), 0.002);
    assertEquals(
        Math.sqrt(gel + Math.pow(Math.log(4.5 / 3.5) / 3.2897, 2)), sd(stages.get(3)), 0.002);
  }

  private static double sd(StageTime stage) {
    return Math.log(stage.fromMinutes().p90() / stage.fromMinutes().p10()) / (2 * 1.281552);
  }

  @Test
  void aClockThatHardlyMovesSaysNothing() {
    ClockInputs before = inputs(4, 24);
    assertTrue(ClockChange.between(before, inputs(4, 24.5)).isEmpty(), "2 % of a day");
    List<ClockChange> changes = ClockChange.between(before, inputs(4, 30));
    assertEquals(1, changes.size());
    assertEquals(Stage.DEMOLD, changes.get(0).stage());
    assertEquals(
        "Demold moved 6.0 h later: the can's demold time, the part's thickness or its load was"
            + " changed.",
        changes.get(0).words());
    ClockChange back = ClockChange.between(inputs(4, 30), before).get(0);
    assertTrue(back.words().startsWith("Demold moved 6.0 h earlier"), back.words());
    List<ClockChange> shorter = ClockChange.between(before, inputs(4, 25));
    assertTrue(shorter.get(0).words().startsWith("Demold moved 60 min later"), shorter.toString());
  }
}
