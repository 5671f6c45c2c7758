package org.layroom.predictor.cure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.layroom.predictor.material.MaterialKind;

/** The stages of a layup, as statements about the trade. */
class CureClocksTest {
  private static final MaterialPosterior RESIN = MaterialPosterior.untested(20, 20, 1.5, 54, 0.9);

  private static ClockInputs inputs(MaterialKind kind, double dosePct, TemperatureOutlook room) {
    return new ClockInputs(RESIN, kind, dosePct, PriorSpreads.DOSE, room, 1, room, 1, 24, false);
  }

  private static ClockInputs resin(double dosePct, TemperatureOutlook room) {
    return inputs(MaterialKind.LAMINATING_RESIN, dosePct, room);
  }

  private static StageTime stage(Stage stage, List<StageTime> stages) {
    return stages.stream().filter(time -> time.stage() == stage).findFirst().orElseThrow();
  }

  private static double likely(Stage stage, ClockInputs inputs) {
    return stage(stage, CureClocks.stages(inputs)).fromMinutes().p50();
  }

  // Computed outside this project: t_ref 20 min, c_ref 1.5 %, Tr 20 degC, Ea 54 kJ/mol, n 0.9.
  @ParameterizedTest
  @CsvSource({
    "15,1.5,29.3756",
    "15,2,22.6747",
    "20,1,28.8079",
    "20,2,15.4378",
    "25,1,19.8680",
    "30,1,13.8714"
  })
  void likelyGelTimesAsTabled(double tempC, double dosePct, double minutes) {
    assertEquals(minutes, RESIN.likelyGelMinutes(tempC, dosePct), 0.00005);
    ClockInputs inputs = resin(dosePct, TemperatureOutlook.constant(tempC));

    assertEquals(minutes, CureClocks.gelMinutes(inputs).p50(), 0.00005);
  }

  @ParameterizedTest
  @CsvSource({"15,2.299", "18,1.776", "22,1.270", "25,0.993", "28,0.780"})
  void constantGelDosesAsTabled(double tempC, double dosePct) {
    assertEquals(dosePct, RESIN.likelyDosePct(tempC, 20), 0.0005);
  }

  // 10 min at 25 degC and 10 min at 20 degC use 24.49965 of 30 min; at 15 degC 8.07881 remain.
  @Test
  void gelUnderAChangingTemperatureAsComputedByHand() {
    TemperaturePath path =
        TemperaturePath.of(
            List.of(
                new TemperaturePoint(0, 25),
                new TemperaturePoint(10, 25),
                new TemperaturePoint(10, 20),
                new TemperaturePoint(20, 20),
                new TemperaturePoint(20, 15)));
    ArrheniusRate law = new ArrheniusRate(54, 20);
    assertEquals(24.49965, RateIntegral.until(path, law, 20), 0.000005);
    assertEquals(8.07881, RateIntegral.reaches(path, law, 30) - 20, 0.000005);
  }

  // 7.56 % per kelvin at 20 degC.
  @Test
  void oneKelvinChangesTheGelTimeBySevenAndAHalfPercent() {
    double perKelvin =
        Math.log(RESIN.likelyGelMinutes(19.5, 1.5) / RESIN.likelyGelMinutes(20.5, 1.5));
    assertEquals(0.0756, perKelvin, 0.00005);
  }

  // NetComposites guide, "Gelation and curing": gel in 25 min at 20 degC, about 12 at 30 degC.
  @Test
  void aLaminateThatGelsIn25MinutesGelsInAbout12AtThirtyDegrees() {
    assertEquals(12, MaterialPosterior.untested(25, 20, 1, 54, 0.9).likelyGelMinutes(30, 1), 0.5);
  }

  // A resin maker's Materials Selection Guide: 30-40 min at 70 degF become 20-25 min at 80 degF.
  @Test
  void tenDegreesFahrenheitTakeAThirdOff() {
    MaterialPosterior guide = MaterialPosterior.untested(35, (70 - 32) / 1.8, 1, 54, 0.9);
    double at80F = guide.likelyGelMinutes((80 - 32) / 1.8, 1);
    assertTrue(at80F > 20 && at80F < 25, "gel " + at80F);
  }

  // East Coast Fibreglass catalyst addition chart, constant working time: 4 % at 5-13 degC, 3 % at
  // 13-16, 2 % at 16-20, 1 % at 20-35. At Ea/n = 54.3 kJ/mol the line through the middles of its
  // bands (mean ln dose at mean 1/T) returns 4.22, 2.71, 2.06, 1.02 %.
  @Test
  void aSuppliersDoseChartHasTheSameSlope() {
    double[] middlesC = {9, 14.5, 18, 27.5};
    double[] chartPct = {4, 3, 2, 1};
    double[] line = {4.22, 2.71, 2.06, 1.02};
    double meanInverse = 0;
    double meanLn = 0;
    for (int i = 0; i < 4; i++) {
      meanInverse += 1 / (middlesC[i] + 273.15) / 4;
      meanLn += Math.log(chartPct[i]) / 4;
    }
    MaterialPosterior chart =
        MaterialPosterior.untested(20, 1 / meanInverse - 273.15, Math.exp(meanLn), 54.3 * 0.9, 0.9);
    for (int i = 0; i < 4; i++) {
      assertEquals(line[i], chart.likelyDosePct(middlesC[i], 20), 0.006);
    }
  }

  // BoatCraft gel coat application guide (2025): 1.0 % at 25 degC equals 1.5 % at 20 degC, and 1.0
  // %
  // at 20 equals 1.5 % at 15: Ea/n 58.9 and 57.0 kJ/mol.
  @Test
  void aGelCoatGuidesDosesHaveNearlyTheSameSlope() {
    assertEquals(
        1.0, MaterialPosterior.untested(20, 20, 1.5, 58.9 * 0.9, 0.9).likelyDosePct(25, 20), 0.002);
    assertEquals(
        1.5, MaterialPosterior.untested(20, 20, 1.0, 57.0 * 0.9, 0.9).likelyDosePct(15, 20), 0.002);
    assertEquals(1.0, RESIN.likelyDosePct(25, 20), 0.01);
  }

  // Gel coat data sheet (POLYCOR 944W005): 77 degF, 1.8 %: gel 10.5-16.5 min, lay-up at 45-60 min.
  @Test
  void gelCoatIsReadyToLaminateWhenItsDataSheetSaysSo() {
    MaterialPosterior sheet = MaterialPosterior.untested(13.5, 25, 1.8, 54, 0.9);
    TemperatureOutlook room = TemperatureOutlook.constant(25);
    ClockInputs inputs =
        new ClockInputs(sheet, MaterialKind.GEL_COAT, 1.8, 0.05, room, 1, room, 1, 24, false);
    Band ready = stage(Stage.READY_TO_LAMINATE, CureClocks.stages(inputs)).fromMinutes();
    assertTrue(ready.p50() > 45 && ready.p50() < 60, "ready at " + ready);
    // Graco gel coating page: 150 over 37.5 min = 4.0.
    assertEquals(150 / 37.5, ready.p50() / CureClocks.gelMinutes(inputs).p50(), 1e-6);
  }

  // Practical Action, p. 10: trim when just set and rubbery; at 30 degC it is 14 to 29 min after
  // mixing (20 min at 20 degC, 1.5 %).
  @Test
  void theGreenTrimWindowIsShortInTheHeat() {
    List<StageTime> stages = CureClocks.stages(resin(1.5, TemperatureOutlook.constant(30)));
    StageTime trim = stage(Stage.GREEN_TRIM, stages);
    assertEquals(14, trim.fromMinutes().p50(), 0.5);
    assertEquals(29, trim.untilMinutes().orElseThrow().p50(), 0.5);
  }

  // 0.7 (0.6-0.8) of the gel time, exotherm peak 1.2-2.6 (Polymers 2024, 16(17), 2391).
  @Test
  void stagesKeepTheirMultiplesOfTheGelTime() {
    ClockInputs at20 = resin(1.5, TemperatureOutlook.constant(20));
    assertEquals(14, likely(Stage.STOP_WETTING_OUT, at20), 1e-6);
    double hottest = likely(Stage.EXOTHERM, at20) / 20;
    assertTrue(hottest > 1.2 && hottest < 2.6, "hottest at " + hottest);
    assertEquals(20 * Math.sqrt(2), likely(Stage.FILM_GEL, at20), 1e-6);
  }

  // About 24 h at 20 °C; 168 h for everything; 27.95 h (Arrhenius) to 24 / .8488 h at 18 degC.
  @Test
  void demoldTakesADayAtTwentyDegrees() {
    ClockInputs at20 = resin(1.5, TemperatureOutlook.constant(20));
    assertEquals(24, likely(Stage.DEMOLD, at20) / 60, 0.1);
    assertEquals(168, likely(Stage.FULL_HARDNESS, at20) / 60, 0.7);
    double at18 = likely(Stage.DEMOLD, resin(1.5, TemperatureOutlook.constant(18))) / 60;
    assertTrue(at18 > 27.9 && at18 < 28.4, "demold after " + at18 + " h");
  }

  @Test
  void aSlowCanMayNotBeDemoldedBefore12GelTimes() {
    MaterialPosterior slow = MaterialPosterior.untested(200, 20, 1.5, 54, 0.9);
    TemperatureOutlook room = TemperatureOutlook.constant(20);
    ClockInputs inputs =
        new ClockInputs(
            slow, MaterialKind.LAMINATING_RESIN, 1.5, 0.05, room, 1, room, 1, 24, false);
    assertEquals(40 * 60, likely(Stage.DEMOLD, inputs), 40);
  }

  @Test
  void aColdNightHoldsTheLatestDemoldBackAndNotTheEarliest() {
    TemperatureOutlook cold = TemperatureOutlook.constant(12);
    Band demold = stage(Stage.DEMOLD, CureClocks.stages(resin(1.5, cold))).fromMinutes();
    assertTrue(demold.p10() < 3 * 24 * 60, "earliest " + demold.p10());
    assertTrue(Double.isInfinite(demold.p90()), "no hour below 15 degC counts for the latest");
    ClockInputs structural =
        new ClockInputs(
            RESIN, MaterialKind.LAMINATING_RESIN, 1.5, 0.05, cold, 0.1, cold, 0.1, 41.2237, true);
    assertTrue(
        Double.isInfinite(stage(Stage.DEMOLD, CureClocks.stages(structural)).fromMinutes().p10()));
  }

  @Test
  void theLatestGelInTheColdFollowsTheSteeperCharts() {
    MaterialPosterior known = RESIN.observing(20, 1.5, false, 20, 0.01);
    TemperatureOutlook cold = TemperatureOutlook.constant(11);
    ClockInputs inputs =
        new ClockInputs(
            known, MaterialKind.LAMINATING_RESIN, 1.5, 0.001, cold, 0.1, cold, 0.1, 24, false);
    double late = 20 / new ArrheniusRate(75, 20).rate(11);
    assertTrue(CureClocks.gelMinutes(inputs).p90() >= late - 0.01);
  }

  @Test
  void gelCoatHasNoGreenTrimAndResinIsNotLaminatedOn() {
    TemperatureOutlook room = TemperatureOutlook.constant(20);
    List<Stage> coat =
        CureClocks.stages(inputs(MaterialKind.GEL_COAT, 1.5, room)).stream()
            .map(StageTime::stage)
            .toList();
    assertTrue(coat.contains(Stage.READY_TO_LAMINATE) && !coat.contains(Stage.GREEN_TRIM));
    List<Stage> finish =
        CureClocks.stages(inputs(MaterialKind.FINISH_COAT, 1.5, room)).stream()
            .map(StageTime::stage)
            .toList();
    assertFalse(finish.contains(Stage.READY_TO_LAMINATE) || finish.contains(Stage.GREEN_TRIM));
  }

  @Test
  void severalForecastsMakeAWiderBandThanTheirMiddle() {
    TemperaturePath sofar = TemperaturePath.constant(20);
    List<TemperaturePath> paths = new ArrayList<>();
    for (int k = -4; k <= 4; k++) {
      paths.add(sofar.then(60, TemperaturePath.constant(20 + k)));
    }
    Band one =
        stage(Stage.DEMOLD, CureClocks.stages(resin(1.5, TemperatureOutlook.of(sofar))))
            .fromMinutes();
    Band many =
        stage(Stage.DEMOLD, CureClocks.stages(resin(1.5, new TemperatureOutlook(paths))))
            .fromMinutes();
    assertTrue(many.p10() < one.p10() && many.p90() > one.p90());
  }

  /** A random room of two days between 4 and 36 degC. */
  private static List<TemperaturePoint> room(long seed, double warmer) {
    Random random = new Random(seed);
    List<TemperaturePoint> points = new ArrayList<>();
    double tempC = 10 + 15 * random.nextDouble();
    for (double minutes = 0; minutes < 2880; minutes += 20 + 100 * random.nextDouble()) {
      points.add(new TemperaturePoint(minutes, tempC + warmer));
      tempC = Math.max(4, Math.min(36, tempC + 2 * random.nextGaussian()));
    }
    return points;
  }

  private static TemperatureOutlook outlook(long seed, double warmer) {
    return TemperatureOutlook.of(TemperaturePath.of(room(seed, warmer)));
  }

  @Property(tries = 300)
  void warmerIsNeverLater(
      @ForAll long seed,
      @ForAll @DoubleRange(min = 1, max = 2.5) double dosePct,
      @ForAll @DoubleRange(min = 0.01, max = 5) double warmer) {
    List<StageTime> cool = CureClocks.stages(resin(dosePct, outlook(seed, 0)));
    List<StageTime> warm = CureClocks.stages(resin(dosePct, outlook(seed, warmer)));
    for (int i = 0; i < cool.size(); i++) {
      Band a = cool.get(i).fromMinutes();
      Band b = warm.get(i).fromMinutes();
      assertTrue(b.p10() <= a.p10() && b.p50() <= a.p50() && b.p90() <= a.p90(), a + " " + b);
    }
  }

  @Property(tries = 2000)
  void atASteadyTemperatureWarmerAndStrongerIsNeverLater(
      @ForAll @DoubleRange(min = 10, max = 34) double tempC,
      @ForAll @DoubleRange(min = 0.8, max = 2.4) double dosePct,
      @ForAll @DoubleRange(min = 0, max = 1) double warmer,
      @ForAll @DoubleRange(min = 0, max = 0.6) double more) {
    Band before = CureClocks.gelMinutes(resin(dosePct, TemperatureOutlook.constant(tempC)));
    Band after =
        CureClocks.gelMinutes(resin(dosePct + more, TemperatureOutlook.constant(tempC + warmer)));
    double roundoff = 1 + 1e-12;
    assertTrue(
        after.p10() <= before.p10() * roundoff
            && after.p50() <= before.p50() * roundoff
            && after.p90() <= before.p90() * roundoff,
        before + " " + after);
  }

  @Property(tries = 300)
  void moreCatalystIsNeverSlower(
      @ForAll long seed,
      @ForAll @DoubleRange(min = 0.8, max = 2.4) double dosePct,
      @ForAll @DoubleRange(min = 0.01, max = 0.6) double more) {
    List<StageTime> little = CureClocks.stages(resin(dosePct, outlook(seed, 0)));
    List<StageTime> much = CureClocks.stages(resin(dosePct + more, outlook(seed, 0)));
    for (int i = 0; i < little.size(); i++) {
      Band a = little.get(i).fromMinutes();
      Band b = much.get(i).fromMinutes();
      assertTrue(b.p10() <= a.p10() && b.p50() <= a.p50() && b.p90() <= a.p90(), a + " " + b);
    }
  }

  @Property(tries = 200)
  void theSameInputsGiveTheSameDigits(@ForAll long seed) {
    ClockInputs inputs = resin(1.5, outlook(seed, 0));
    assertEquals(CureClocks.stages(inputs), CureClocks.stages(inputs));
  }

  @Test
  void aMovedClockSaysWhy() {
    ClockInputs before = resin(1.5, TemperatureOutlook.constant(20));
    ClockInputs colder = resin(1.5, TemperatureOutlook.constant(17));
    List<ClockChange> changes = ClockChange.between(before, colder);
    ClockChange demold =
        changes.stream().filter(c -> c.stage() == Stage.DEMOLD).findFirst().orElseThrow();
    assertTrue(
        demold
            .words()
            .matches(
                "Demold moved \\d+\\.\\d h later: the mold is 3.0 °C colder on average than"
                    + " expected\\."),
        demold.words());
    assertTrue(ClockChange.between(before, before).isEmpty());
    ClockInputs dosed = resin(2, TemperatureOutlook.constant(20));
    assertTrue(
        ClockChange.between(before, dosed).stream()
            .allMatch(c -> c.words().endsWith("the dose is 2 % instead of 1.5 %.")));
    assertFalse(ClockChange.between(before, dosed).isEmpty());
  }

  @Test
  void lateGelGetsAdvice() {
    StageTime gel =
        stage(Stage.FILM_GEL, CureClocks.stages(resin(1.5, TemperatureOutlook.constant(20))));
    double latest = gel.fromMinutes().p90();
    assertTrue(OverdueGel.advice(MaterialKind.GEL_COAT, gel, latest).isEmpty());
    String words = OverdueGel.advice(MaterialKind.GEL_COAT, gel, latest + 1).orElseThrow().reason();
    assertTrue(words.contains("20 to 25 °C") && words.contains("soft gel coat"), words);
    assertTrue(
        OverdueGel.advice(MaterialKind.GEL_COAT, gel, latest + 24 * 60 + 1)
            .orElseThrow()
            .reason()
            .contains("Strip it"));
  }

  @Test
  void progressFollowsTheBand() {
    StageTime stage =
        stage(Stage.GEL, CureClocks.stages(resin(1.5, TemperatureOutlook.constant(20))));
    Band band = stage.fromMinutes();
    assertEquals(StageTime.Progress.NOT_YET, stage.at(band.p10() - 0.1));
    assertEquals(StageTime.Progress.MAYBE, stage.at(band.p10()));
    assertEquals(StageTime.Progress.LIKELY, stage.at(band.p50()));
    assertEquals(StageTime.Progress.REACHED, stage.at(band.p90()));
    assertTrue(Double.isInfinite(stage.cutAfter(band.p50()).fromMinutes().p90()));
    assertEquals(band.p50(), stage.cutAfter(band.p50()).fromMinutes().p50());
  }

  @Test
  void nonsenseIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> new Band(2, 1, 3));
    assertThrows(IllegalArgumentException.class, () -> new Band(1, 2, 3).times(0));
    assertThrows(
        IllegalArgumentException.class, () -> MaterialPosterior.untested(0, 20, 1.5, 54, 0.9));
    assertThrows(IllegalArgumentException.class, () -> resin(0, TemperatureOutlook.constant(20)));
    assertThrows(IllegalArgumentException.class, () -> new TemperatureOutlook(List.of()));
  }
}
