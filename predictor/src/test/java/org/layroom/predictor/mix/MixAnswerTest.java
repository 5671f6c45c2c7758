package org.layroom.predictor.mix;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.calibration.GelTest;
import org.layroom.predictor.cure.Band;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.cure.StageTime;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.heat.Laminate;
import org.layroom.predictor.heat.MoldKind;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialDraft;
import org.layroom.predictor.verdict.AirState;
import org.layroom.predictor.verdict.Condition;
import org.layroom.predictor.verdict.Conditions;
import org.layroom.predictor.verdict.MixCheck;

/** Dose, cups and refusals as a person in the shop meets them. */
class MixAnswerTest {
  private static final Amount A_CUP = new Amount.Milliliters(200);

  private static MaterialDraft draft(String kind, double densityKgPerL) {
    return new MaterialDraft()
        .id("shop-can")
        .name("Shop can")
        .kind(kind)
        .gel(20, 20, 1.5)
        .doseByWeightPct(1, 2.5)
        .doseExponent(0.9)
        .temperatureC(15, 35)
        .densityKgPerL(densityKgPerL)
        .catalystDensityKgPerL(1.18);
  }

  private static Material build(MaterialDraft draft) {
    try {
      return draft.build();
    } catch (InvalidMaterial e) {
      throw new IllegalStateException(e);
    }
  }

  private static MixQuestion question(Material material, double tempC) {
    try {
      return MixQuestion.of(material, A_CUP).at(at(tempC));
    } catch (InvalidMaterial e) {
      throw new IllegalStateException(e);
    }
  }

  private static MixQuestion resin(double tempC) {
    return question(build(draft("laminating-resin", 1.12)), tempC);
  }

  private static MixTemperatures at(double tempC) {
    return MixTemperatures.unknown()
        .withMold(AgedTemperature.typed(tempC))
        .withResin(AgedTemperature.typed(tempC));
  }

  private static List<String> refused(MixAnswer answer) {
    assertTrue(answer.dose().isEmpty() && answer.cups().isEmpty() && answer.stages().isEmpty());
    return answer.refused().stream().map(Refusal::field).toList();
  }

  private static List<String> warned(MixAnswer answer) {
    assertTrue(answer.dose().isPresent(), () -> answer.refused().toString());
    return answer.warnings().stream().map(Warning::field).toList();
  }

  // Computed outside this project: the dose that holds 20 min is 2.299 % at 15 degC, 1.776 at 18,
  // 1.270 at 22.
  @ParameterizedTest
  @CsvSource({"15,2.299", "18,1.776", "20,1.5", "22,1.270"})
  void theSheetsGelTimeIsHeldByTheDose(double tempC, double dosePct) {
    Dose dose = resin(tempC).answer().dose().orElseThrow();
    assertEquals(dosePct, dose.unroundedPct(), 0.0005);
    // Half a mark of a 0.1 ml syringe on 224 g is 0.026 %.
    assertEquals(dosePct, dose.doseByWeightPct(), 0.0265);
  }

  @Test
  void aWorkingTimeIsSevenTenthsOfTheLikelyGelTime() {
    MixAnswer answer = resin(20).wanting(new DoseRequest.WorkingTime(14)).answer();
    Dose dose = answer.dose().orElseThrow();
    // 20 min gel at 20 degC and 1.5 %: 14 min of work; 224 g x 1.5 % / 1.18 = 2.847 ml, shown 2.8.
    assertEquals(1.5, dose.unroundedPct(), 1e-9);
    assertEquals(2.8, dose.catalystMl().getAsDouble(), 1e-12);
    assertEquals(2.8 * 1.18, dose.catalystGrams(), 1e-12);
    assertEquals(100 * 2.8 * 1.18 / 224, dose.doseByWeightPct(), 1e-12);
    assertEquals(1.4, dose.mlPer100Ml().getAsDouble(), 1e-12);
    assertEquals(12.5, dose.mlPerKg().getAsDouble(), 1e-12);
    double gel = 20 * Math.pow(1.5 / dose.doseByWeightPct(), 0.9);
    assertEquals(gel, answer.gelMinutes().orElseThrow().p50(), 1e-9);
    assertEquals(0.7 * gel, answer.workingMinutes().getAsDouble(), 1e-9);
    assertEquals(gel - 20, dose.roundingMinutes(), 1e-9);
    assertEquals(1, answer.cups().size());
    assertEquals("typical, not yet tested with your can", answer.confidence());
  }

  // Butanox M-50 data sheet 1.180 g/ml, LPT-IN 1.017 g/ml: 1 % of 1 kg is 8.47 ml or 9.83 ml.
  @ParameterizedTest
  @CsvSource({"1.180,8.47", "1.017,9.83"})
  void onePercentOfAKilogramDependsOnTheBottle(double kgPerL, double ml) throws InvalidMaterial {
    Material can =
        build(
            draft("laminating-resin", 1.12).doseByWeightPct(0.9, 2).catalystDensityKgPerL(kgPerL));
    MixAnswer answer =
        MixQuestion.of(can, new Amount.Grams(1000))
            .at(at(20))
            .with(new ShopTools(0.01, 100, 2000))
            .wanting(new DoseRequest.ByWeight(1))
            .answer();
    assertEquals(ml, answer.dose().orElseThrow().catalystMl().getAsDouble(), 0.0051);
  }

  // Common practice: 1.0 ml per 100 ml of iso gel coat (1.25 kg/l), 0.9 ml per 100 ml of iso resin
  // (1.12 kg/l); by weight 0.944 and 0.948 %.
  @ParameterizedTest
  @CsvSource({"gel-coat,1.25,1.0,0.944", "laminating-resin,1.12,0.9,0.948"})
  void thePracticalLowDoseIsAnsweredWithAWarning(
      String kind, double kgPerL, double mlPer100, double pct) {
    MixQuestion low =
        question(build(draft(kind, kgPerL)), 21).wanting(new DoseRequest.MlPer100Ml(mlPer100));
    MixAnswer answer = low.answer();
    Dose dose = answer.dose().orElseThrow();
    assertEquals(pct, dose.unroundedPct(), 0.0005);
    assertTrue(dose.doseByWeightPct() < 1);
    assertEquals(List.of("dose"), warned(answer));
    assertTrue(
        answer.warnings().get(0).reason().contains("low and hardens slowly"),
        answer.warnings().toString());
    MixAnswer usual =
        question(build(draft(kind, kgPerL)), 21).wanting(new DoseRequest.ByWeight(1.2)).answer();
    assertTrue(ratio(answer) > ratio(usual) * 1.02, "a wider band");
  }

  private static double ratio(MixAnswer answer) {
    Band band = answer.gelMinutes().orElseThrow();
    return band.p90() / band.p10();
  }

  @Test
  void mlPerKgAsCansPrintIt() {
    MixAnswer answer = resin(20).wanting(new DoseRequest.MlPerKg(12.5)).answer();
    assertEquals(1.475, answer.dose().orElseThrow().unroundedPct(), 1e-9);
  }

  @Test
  void dosesNobodyShouldMixAreRefused() {
    assertEquals(
        List.of("dose"), refused(resin(20).wanting(new DoseRequest.ByWeight(0.79)).answer()));
    assertEquals(
        List.of("dose"), refused(resin(20).wanting(new DoseRequest.ByWeight(2.51)).answer()));
    assertEquals(List.of("dose"), refused(resin(20).wanting(new DoseRequest.Drops(40)).answer()));
    assertTrue(resin(20).wanting(new DoseRequest.ByWeight(0.8)).answer().dose().isPresent());
    assertTrue(resin(20).wanting(new DoseRequest.ByWeight(2.5)).answer().dose().isPresent());
  }

  @Test
  void aDoseInMlNeedsTheDensityOrATestOfTheSameBottle() throws InvalidMaterial {
    MaterialDraft unknown =
        new MaterialDraft()
            .id("shop-can")
            .name("Shop can")
            .kind("laminating-resin")
            .gel(20, 20, 1.5)
            .doseByWeightPct(1, 2.5);
    MixQuestion question = question(build(unknown), 20);
    assertEquals(List.of("dose"), refused(question.wanting(new DoseRequest.MlPerKg(12)).answer()));
    MixAnswer weighed = question.wanting(new DoseRequest.ByWeight(1.5)).answer();
    assertTrue(weighed.dose().orElseThrow().catalystMl().isEmpty(), "grams only");
    assertEquals(List.of("catalystDensityKgPerL", "densityKgPerL"), warned(weighed));
    assertEquals(3.4, weighed.dose().orElseThrow().catalystGrams(), 1e-9);
    MixAnswer tested =
        question
            .wanting(new DoseRequest.MlPerKg(12))
            .from(CatalystBottle.fresh().withGelTest(CatalystBottle.Tested.GELLED))
            .answer();
    assertTrue(tested.dose().orElseThrow().catalystMl().isPresent());
    assertTrue(ratio(tested) > ratio(resin(20).wanting(new DoseRequest.MlPerKg(12)).answer()));
  }

  @Test
  void aWorkingTimeThatDoesNotFitSaysWhatToChange() {
    MixAnswer tooLong = resin(25).wanting(new DoseRequest.WorkingTime(40)).answer();
    assertEquals(List.of("workingTime"), refused(tooLong));
    String words = tooLong.refused().get(0).reason();
    // 1 % at 25 degC gels in 19.868 min: 13.9 min of work.
    assertTrue(
        words.startsWith("Even the can's lowest dose of 1 % gives only 14 min at 25.0 °C."), words);
    assertTrue(words.contains("smaller cups") && words.contains("divide the mold"), words);
    MixAnswer tooShort = resin(15).wanting(new DoseRequest.WorkingTime(8)).answer();
    String warm = tooShort.refused().get(0).reason();
    assertTrue(
        warm.startsWith("Even the can's highest dose of 2.5 % gives 13 min at 15.0 °C."), warm);
    // By hand: 8 min need a rate of 1.105, between 1 at 20 and 1.162 at 22 degC.
    assertTrue(warm.contains("Warm it to 21.3 °C"), warm);
    // 1 % at 20 degC gels in 28.808 min, 20.17 min of work: a tenth of a kelvin warmer than that.
    MixAnswer nearly = resin(25).wanting(new DoseRequest.WorkingTime(20)).answer();
    assertTrue(
        nearly.refused().get(0).reason().contains("Cool it to 20.1 °C"),
        nearly.refused().get(0).reason());
  }

  @ParameterizedTest
  @CsvSource({
    "9.9,moldTemperatureC resinTemperatureC,false",
    "14.9,moldTemperatureC resinTemperatureC,true",
    "35.1,moldTemperatureC resinTemperatureC,false"
  })
  void outsideTheTemperaturesThereIsNoDose(double tempC, String fields, boolean gelShown) {
    MixAnswer answer = resin(tempC).answer();
    assertEquals(fields, String.join(" ", refused(answer)));
    assertEquals(gelShown, answer.gelMinutes().isPresent());
  }

  // Computed outside this project: 2 % at 15 degC 22.6747 min; a can that allows less than 15 degC
  // still gets no dose there.
  @Test
  void fromTenToFifteenDegreesTheGelTimeIsShownAndNoDose() {
    MixAnswer answer = resin(14).wanting(new DoseRequest.ByWeight(2)).answer();
    assertFalse(refused(answer).isEmpty());
    double gel = answer.gelMinutes().orElseThrow().p50();
    assertTrue(gel > 22.6747 && gel < 22.6747 * 1.1, "gel " + gel);
    assertEquals("15 °C", answer.refused().get(0).limit());
    MixAnswer asked = resin(12).wanting(new DoseRequest.WorkingTime(2)).answer();
    assertEquals(List.of("moldTemperatureC", "resinTemperatureC"), refused(asked));
    // The data sheet's 1.5 % at 12 degC: 20 / .5371 min.
    assertEquals(20 / .5371, asked.gelMinutes().orElseThrow().p50(), 0.01);
  }

  @Test
  void theCansOwnTemperaturesBindToo() {
    Material narrow = build(draft("laminating-resin", 1.12).temperatureC(18, 25));
    assertEquals("18 °C", question(narrow, 17).answer().refused().get(0).limit());
    assertEquals("25 °C", question(narrow, 26).answer().refused().get(0).limit());
  }

  @ParameterizedTest
  @CsvSource({
    "laminating-resin,15,2",
    "laminating-resin,17.9,2",
    "laminating-resin,18,0",
    "laminating-resin,30.9,0",
    "laminating-resin,31,2",
    "gel-coat,27,0",
    "gel-coat,27.1,2"
  })
  void warmAndCoolEndsAreWarnedOf(String kind, double tempC, int warnings) {
    MixAnswer answer =
        question(build(draft(kind, 1.2)), tempC).wanting(new DoseRequest.ByWeight(1)).answer();
    assertEquals(warnings, warned(answer).size(), () -> answer.warnings().toString());
  }

  @Test
  void withOneTemperatureTheBandIsWider() throws InvalidMaterial {
    Material can = build(draft("laminating-resin", 1.12));
    MixQuestion both = MixQuestion.of(can, A_CUP).at(at(20));
    MixAnswer moldOnly =
        both.at(MixTemperatures.unknown().withMold(AgedTemperature.typed(20))).answer();
    assertEquals(List.of("resinTemperatureC"), warned(moldOnly));
    assertTrue(ratio(moldOnly) > ratio(both.answer()));
    MixAnswer resinOnly =
        both.at(MixTemperatures.unknown().withResin(AgedTemperature.typed(20))).answer();
    assertEquals(List.of("moldTemperatureC"), warned(resinOnly));
    assertEquals(ratio(both.answer()), ratio(resinOnly), 1e-12);
    assertEquals(List.of("moldTemperatureC"), refused(both.at(MixTemperatures.unknown()).answer()));
  }

  @Test
  void anOldReadingIsAskedForAgain() {
    MixQuestion question = resin(20);
    MixTemperatures old =
        MixTemperatures.unknown()
            .withMold(AgedTemperature.measured(20, Duration.ofMinutes(31)))
            .withResin(AgedTemperature.typed(20));
    assertEquals(List.of("moldTemperatureC"), refused(question.at(old).answer()));
    MixTemperatures fresh = old.withMold(AgedTemperature.measured(20, Duration.ofMinutes(30)));
    assertTrue(question.at(fresh).answer().dose().isPresent());
  }

  @Test
  void aWetOrUnairedRoomStopsTheMixAndADampOneIsAReasonToWait() {
    Conditions room =
        Conditions.nothingKnown()
            .withAirC(Condition.typed(20))
            .withHumidityPct(Condition.typed(55))
            .withMoldC(Condition.typed(20))
            .withAir(AirState.of(AirState.Kind.OK, "", 1));
    Material can = build(draft("laminating-resin", 1.12));
    assertTrue(warned(in(can, room)).isEmpty());
    assertEquals(List.of("moisture"), refused(in(can, room.withHumidityPct(Condition.typed(91)))));
    MixAnswer damp = in(can, room.withHumidityPct(Condition.typed(82)));
    assertEquals(List.of("moisture"), warned(damp));
    assertTrue(damp.warnings().get(0).reason().startsWith("Wait: "));
    assertEquals(
        List.of("air"),
        refused(in(can, room.withAir(AirState.of(AirState.Kind.LEAVE, "vapor is high")))));
    assertEquals(List.of("air"), warned(in(can, room.withAir(AirState.notMeasured()))));
  }

  private static MixAnswer in(Material can, Conditions room) {
    return question(can, 20).in(MixCheck.check(Optional.of(can), room)).answer();
  }

  @Test
  void aDriftingMoldIsWarnedOf() {
    assertEquals(
        List.of("moldDriftKPerH"), warned(resin(20).at(at(20).withMoldDriftKPerH(-3.1)).answer()));
    assertTrue(warned(resin(20).at(at(20).withMoldDriftKPerH(3)).answer()).isEmpty());
  }

  @Test
  void aGelTimeUnderFiveMinutesIsRefusedAndOverNinetyIsAReasonToWait() {
    Material quick = build(draft("laminating-resin", 1.12).gel(6, 20, 1.5));
    assertEquals(
        List.of("gelMinutes"),
        refused(question(quick, 25).wanting(new DoseRequest.ByWeight(1.5)).answer()));
    Material slow = build(draft("laminating-resin", 1.12).gel(100, 20, 1.5));
    MixAnswer answer = question(slow, 20).wanting(new DoseRequest.ByWeight(1.5)).answer();
    assertEquals(List.of("gelMinutes"), warned(answer));
    assertTrue(answer.warnings().get(0).reason().startsWith("Wait"));
  }

  @Test
  void doubtfulCatalystWidensTheBandAndAFailedTestStops() {
    MixQuestion question = resin(20).wanting(new DoseRequest.ByWeight(1.5));
    double usual = ratio(question.answer());
    for (CatalystBottle doubtful :
        List.of(
            new CatalystBottle(false, false, Optional.empty(), CatalystBottle.Tested.NOT_TESTED),
            new CatalystBottle(true, true, Optional.empty(), CatalystBottle.Tested.NOT_TESTED),
            new CatalystBottle(
                true, false, Optional.of(Duration.ofDays(93)), CatalystBottle.Tested.NOT_TESTED))) {
      MixAnswer answer = question.from(doubtful).answer();
      assertEquals(List.of("catalyst"), warned(answer));
      assertTrue(ratio(answer) > usual);
    }
    CatalystBottle young =
        new CatalystBottle(
            true, false, Optional.of(Duration.ofDays(92)), CatalystBottle.Tested.GELLED);
    assertTrue(warned(question.from(young).answer()).isEmpty());
    assertEquals(
        List.of("catalyst"),
        refused(
            question
                .from(CatalystBottle.fresh().withGelTest(CatalystBottle.Tested.FAILED))
                .answer()));
  }

  @Test
  void aWaxedCoatIsTheLastOne() {
    MixQuestion waxed = question(build(draft("finish-coat", 1.2).waxed(true)), 20);
    assertEquals(List.of("place"), refused(waxed.into(new Pass(Pass.Place.IN_MOLD, 0)).answer()));
    assertEquals(
        List.of("place"), refused(waxed.into(new Pass(Pass.Place.BETWEEN_LAYERS, 0)).answer()));
    assertEquals(List.of("place"), warned(waxed.into(new Pass(Pass.Place.LAST_COAT, 0)).answer()));
    assertTrue(warned(resin(20).into(new Pass(Pass.Place.IN_MOLD, 2)).answer()).isEmpty());
  }

  // A mistaken tap: gel after 60 min instead of 20. It moved the dose from 1.50 to 2.48 % of at
  // most 2.5; one test may move it by 15 %, the times follow at once.
  @Test
  void oneGelTestMovesTheDoseByFifteenPercentAndTheClockAtOnce() throws InvalidMaterial {
    Material can = build(draft("laminating-resin", 1.12));
    Calibration untested = Calibration.of(can);
    MixAnswer before = question(can, 20).answer();
    for (double minutes : new double[] {60, 6}) {
      Calibration tapped = untested.with(new GelTest(GelTest.Where.CUP, 20, 1.5, minutes));
      MixQuestion after = MixQuestion.of(can, tapped, new Amount.Grams(1000)).at(at(20));
      MixAnswer answer = after.with(new ShopTools(0.01, 100, 1000)).answer();
      double moved =
          answer.dose().orElseThrow().unroundedPct() / before.dose().orElseThrow().unroundedPct();
      assertEquals(minutes > 20 ? 1.15 : 1 / 1.15, moved, 1e-6);
      assertEquals(List.of("gelTests"), warned(answer));
      double gel = answer.gelMinutes().orElseThrow().p50();
      double believed =
          tapped.belief().likelyGelMinutes(20, answer.dose().orElseThrow().doseByWeightPct());
      assertEquals(believed, gel, 1e-6);
    }
    // Two tests that agree move it further.
    Calibration twice =
        untested
            .with(new GelTest(GelTest.Where.CUP, 20, 1.5, 60))
            .with(new GelTest(GelTest.Where.CUP, 20, 1.5, 60));
    double pct =
        MixQuestion.of(can, twice, new Amount.Grams(1000))
            .at(at(20))
            .answer()
            .dose()
            .orElseThrow()
            .unroundedPct();
    assertEquals(before.dose().orElseThrow().unroundedPct() * 1.15 * 1.15, pct, 1e-6);
    // A test as expected moves nothing and says nothing.
    Calibration usual = untested.with(new GelTest(GelTest.Where.CUP, 20, 1.5, 21));
    assertTrue(
        warned(MixQuestion.of(can, usual, new Amount.Grams(1000)).at(at(20)).answer()).isEmpty());
  }

  // By peak, not by number: a likely 60 degC (chosen; a plug must stand 65 degC and more) is passed
  // above 5 mm, four layers of 450 g/m2, at 20 degC. Five or more layers at once overheat
  // (furniture-making handbook).
  @Test
  void fiveLayersAtOnceAreAReasonToWait() {
    MixQuestion resin = resin(20).wanting(new DoseRequest.ByWeight(1.5));
    assertTrue(warned(resin.into(new Pass(Pass.Place.IN_MOLD, 4)).answer()).isEmpty());
    MixAnswer five = resin.into(new Pass(Pass.Place.IN_MOLD, 5)).answer();
    assertEquals(List.of("peakC"), warned(five));
    assertTrue(five.warnings().get(0).reason().startsWith("Wait: this gets too hot"));
  }

  // Three layers of 600 g/m2 at 2.5:1 stay cool, four (5.9 mm) do not, though they are only four;
  // 8 mm likely reaches 84.2 degC (computed outside this project) and is not for one pass.
  @Test
  void heatIsJudgedByGlassAndNotByLayers() {
    MixQuestion resin = resin(20).wanting(new DoseRequest.ByWeight(1.5));
    assertTrue(warned(resin.into(laid(Laminate.ofLayers(3, 600, 2.5))).answer()).isEmpty());
    assertEquals(
        List.of("peakC"), warned(resin.into(laid(Laminate.ofLayers(4, 600, 2.5))).answer()));
    MixAnswer thick = resin.into(laid(Laminate.of(8))).answer();
    assertTrue(
        thick.warnings().get(0).reason().startsWith("Wait: do not lay this in one pass."),
        thick.warnings().toString());
    assertEquals(84.2, thick.heat().orElseThrow().peakC().p50(), 1);
    assertEquals(114.3, thick.heat().orElseThrow().peakC().p90(), 1.5);
    assertTrue(thick.heat().orElseThrow().words().contains(", at worst 11"));
  }

  private static Pass laid(Laminate laminate) {
    return new Pass(Pass.Place.IN_MOLD, 0, Optional.of(laminate), MoldKind.GRP);
  }

  // 5 mm, 20 min at 20 degC: 57.02 degC at 41.96 min (computed outside this project); the trim
  // window of a thick laminate closes at its peak, 42 min, instead of 72.
  @Test
  void aThickLaminateIsHardAtItsPeak() {
    MixQuestion resin = resin(20).wanting(new DoseRequest.ByWeight(1.5));
    MixAnswer thick = resin.into(laid(Laminate.of(5))).answer();
    HeatOutlook heat = thick.heat().orElseThrow();
    assertEquals(57.02, heat.peakC().p50(), 0.8);
    assertEquals(41.96, heat.peakMinutes(), 0.8);
    assertEquals(heat.peakMinutes(), likely(thick, Stage.EXOTHERM), 0.8);
    double closes = closes(thick);
    assertTrue(closes <= heat.peakMinutes() + 0.8, "closes at " + closes);
    assertTrue(
        likely(thick, Stage.GREEN_TRIM) < closes - 5,
        "opens at " + likely(thick, Stage.GREEN_TRIM));
    assertTrue(likely(thick, Stage.GREEN_TRIM) > likely(thick, Stage.GEL));
    assertTrue(closes(resin.into(laid(Laminate.of(2))).answer()) > 60);
    // 0.5 of the hours of a thin part from 4 mm on (chosen).
    assertEquals(6, thick.demold().orElseThrow().belief().medianHours(), 0.1);
  }

  private static double closes(MixAnswer answer) {
    return answer.stages().stream()
        .filter(time -> time.stage() == Stage.GREEN_TRIM)
        .findFirst()
        .flatMap(StageTime::untilMinutes)
        .orElseThrow()
        .p50();
  }

  // From gel to the late peak (1.2 to 2.6 gel times; Polymers 2024, 16(17), 2391); published cups
  // reach 110 to 165 degC.
  @Test
  void whatIsLeftInTheCupIsHotUntilItsLatePeak() {
    MixAnswer answer = resin(20).wanting(new DoseRequest.ByWeight(1.5)).answer();
    Leftover leftover = answer.leftover().orElseThrow();
    assertEquals(answer.gelMinutes().orElseThrow(), leftover.fromMinutes());
    double gel = leftover.fromMinutes().p50();
    assertTrue(leftover.untilMinutes().p50() > 1.2 * gel);
    assertTrue(leftover.untilMinutes().p50() < 2.6 * gel);
    assertTrue(leftover.untilMinutes().p90() > leftover.fromMinutes().p90() * 1.77);
    assertTrue(leftover.words().contains("outdoors, in a shallow tray or under water"));
  }

  @Test
  void stagesOfThePartCountFromTheLastCup() throws InvalidMaterial {
    Material can = build(draft("laminating-resin", 1.12));
    MixQuestion three =
        MixQuestion.of(can, new Amount.Grams(1500))
            .at(at(20))
            .wanting(new DoseRequest.ByWeight(1.5))
            .with(new ShopTools(0.1, 100, 500));
    MixAnswer answer = three.answer();
    double lastCup = answer.cups().get(answer.cups().size() - 1).mixAtMinutes();
    assertTrue(lastCup >= 10, "last cup at " + lastCup);
    MixAnswer one = resin(20).wanting(new DoseRequest.ByWeight(1.5)).answer();
    assertEquals(likely(one, Stage.GREEN_TRIM) + lastCup, likely(answer, Stage.GREEN_TRIM), 1.5);
    // The syringe rounds the dose of another cup.
    assertEquals(likely(one, Stage.GEL), likely(answer, Stage.GEL), 0.8);
  }

  @Test
  void aCupTooSmallForTheSyringeIsRefused() throws InvalidMaterial {
    Material can = build(draft("laminating-resin", 1.12).doseByWeightPct(1.4, 1.6));
    MixQuestion small = MixQuestion.of(can, new Amount.Grams(50)).at(at(20));
    // 50 g x 1.5 % / 1.18 = 0.64 ml: marks of 1 ml show 0 or 2.4 %.
    assertEquals(List.of("amount"), refused(small.with(new ShopTools(1, 100, 1000)).answer()));
    assertTrue(small.answer().dose().isPresent());
  }

  @Test
  void everyCupIsUsedUpBeforeItsEarliestEnd() throws InvalidMaterial {
    Material can = build(draft("laminating-resin", 1.12));
    MixAnswer answer =
        MixQuestion.of(can, new Amount.Grams(3000))
            .at(at(20))
            .wanting(new DoseRequest.WorkingTime(14))
            .with(new ShopTools(0.1, 50, 1000))
            .answer();
    List<Cup> cups = answer.cups();
    double earliest = 0.7 * answer.gelMinutes().orElseThrow().p10();
    assertEquals((int) Math.ceil(3000 / (earliest * 50)), cups.size());
    double sum = 0;
    for (Cup cup : cups) {
      assertTrue(cup.materialGrams() / 50 <= cup.useUpByMinutes() - cup.mixAtMinutes() + 0.1);
      assertEquals(sum / 50, cup.mixAtMinutes(), 1e-9);
      sum += cup.materialGrams();
    }
    assertEquals(3000, sum, 1e-9);
    assertEquals(
        answer.dose().orElseThrow().catalystMl().getAsDouble(),
        cups.stream().mapToDouble(cup -> cup.catalystMl().getAsDouble()).sum(),
        1e-9);
    MixAnswer hot =
        MixQuestion.of(can, new Amount.Grams(900))
            .at(at(28))
            .wanting(new DoseRequest.ByWeight(1))
            .answer();
    assertTrue(hot.cups().size() >= 3, "small cups in the heat");
  }

  @Test
  void theMoldsForecastMovesTheFilmAndNotTheCup() {
    MixAnswer steady = resin(20).answer();
    MixAnswer cooling =
        resin(20).at(at(20).withMoldOutlook(TemperatureOutlook.constant(16))).answer();
    assertEquals(steady.gelMinutes(), cooling.gelMinutes());
    assertTrue(likely(cooling, Stage.DEMOLD) > 1.2 * likely(steady, Stage.DEMOLD));
    assertEquals(
        likely(steady, Stage.STOP_WETTING_OUT), likely(cooling, Stage.STOP_WETTING_OUT), 0);
  }

  private static double likely(MixAnswer answer, Stage stage) {
    return answer.stages().stream()
        .filter(time -> time.stage() == stage)
        .findFirst()
        .orElseThrow()
        .fromMinutes()
        .p50();
  }

  @Property(tries = 500)
  void aDoseStaysInsideTheCanAndItsGelTimeFollowsFromIt(
      @ForAll @DoubleRange(min = 15, max = 33) double tempC,
      @ForAll @DoubleRange(min = 4, max = 60) double minutes,
      @ForAll @DoubleRange(min = 50, max = 3000) double ml) {
    Material can = build(draft("laminating-resin", 1.12));
    MixQuestion question;
    try {
      question = MixQuestion.of(can, new Amount.Milliliters(ml)).at(at(tempC));
    } catch (InvalidMaterial e) {
      throw new IllegalStateException(e);
    }
    MixAnswer answer = question.wanting(new DoseRequest.WorkingTime(minutes)).answer();
    assertEquals(answer.refused().isEmpty(), answer.dose().isPresent());
    if (answer.dose().isEmpty()) {
      return;
    }
    Dose dose = answer.dose().get();
    assertTrue(can.doseByWeightPct().contains(dose.doseByWeightPct()));
    double rate = Math.exp(-54 / 8.314462618e-3 * (1 / (tempC + 273.15) - 1 / 293.15));
    double gel = 20 * Math.pow(1.5 / dose.doseByWeightPct(), 0.9) / rate;
    assertEquals(gel, answer.gelMinutes().orElseThrow().p50(), 1e-6 * gel);
    assertEquals(minutes, 0.7 * 20 * Math.pow(1.5 / dose.unroundedPct(), 0.9) / rate, 1e-6 * gel);
    // Round trips between the bases.
    assertEquals(dose.doseByWeightPct(), dose.mlPerKg().getAsDouble() * 1.18 / 10, 1e-9);
    assertEquals(dose.doseByWeightPct(), dose.mlPer100Ml().getAsDouble() * 1.18 / 1.12, 1e-9);
    assertEquals(dose.materialGrams(), dose.materialMl() * 1.12, 1e-9 * dose.materialGrams());
    assertEquals(question.wanting(new DoseRequest.WorkingTime(minutes)).answer(), answer);
  }

  @Test
  void everyReasonIsASentenceWithoutForbiddenWords() {
    List<MixAnswer> answers =
        Stream.of(5.0, 12.0, 16.0, 20.0, 32.0, 40.0)
            .flatMap(
                tempC ->
                    Stream.of(
                            new DoseRequest.ByWeight(0.5),
                            new DoseRequest.ByWeight(0.9),
                            new DoseRequest.ByWeight(5),
                            new DoseRequest.Drops(3),
                            new DoseRequest.WorkingTime(2),
                            new DoseRequest.WorkingTime(200))
                        .map(want -> resin(tempC).wanting(want).answer()))
            .toList();
    for (MixAnswer answer : answers) {
      Stream.concat(
              answer.refused().stream().map(Refusal::reason),
              answer.warnings().stream().map(Warning::reason))
          .forEach(
              words -> {
                String lower = words.toLowerCase(Locale.ROOT);
                assertTrue(words.endsWith("."), words);
                assertFalse(lower.contains("safe") || lower.contains("cured"), words);
              });
    }
  }

  // 0.5 mm x 1250 kg/m3 = 625 g/m2, 1.6 m2 a kilogram; 450 g/m2 mat at 2.5 : 1 is about 1.1 mm;
  // 1 oz/ft2 = 305.2 g/m2.
  @Test
  void quantitiesFollowFromTheMoldsArea() {
    LayupQuantities plain =
        LayupQuantities.of(new LayupQuantities.Layup(1.6, 0.5, 1.25, 450, 1, 2.5, 0));
    assertEquals(1000, plain.gelCoatGrams(), 1e-9);
    assertEquals(720, plain.matGrams(), 1e-9);
    assertEquals(1800, plain.resinGrams(), 1e-9);
    assertEquals(1.1, plain.thicknessMm(), 0.05);
    assertEquals(1, plain.passes());
    assertTrue(plain.warnings().isEmpty());
    assertEquals(305.2, LayupQuantities.OZ_PER_FT2, 0.05);
    LayupQuantities thick =
        LayupQuantities.of(new LayupQuantities.Layup(1, 0.2, 1.25, 600, 5, 3, 10));
    assertEquals(
        List.of("filmMm", "matGPerM2", "resinToGlass"),
        thick.warnings().stream().map(Warning::field).toList());
    // 600/2540 + 1800/1200 = 1.736 mm a layer by hand: two of them stay under 5 mm.
    assertEquals(3, thick.passes());
    assertEquals(9900, thick.resinGrams(), 1e-9);
    assertThrows(
        IllegalArgumentException.class,
        () -> new LayupQuantities.Layup(0, 0.5, 1.25, 450, 1, 2.5, 0));
  }

  @Test
  void nonsenseIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> new Amount.Grams(0));
    assertThrows(IllegalArgumentException.class, () -> new DoseRequest.WorkingTime(0));
    assertThrows(IllegalArgumentException.class, () -> AgedTemperature.typed(100));
    assertThrows(IllegalArgumentException.class, () -> new Pass(Pass.Place.IN_MOLD, -1));
    assertThrows(IllegalArgumentException.class, () -> new ShopTools(0, 100, 1000));
  }

  // A gel coat of 13.5 min at 25 degC and 1.8 %, range 1 to 3 %: to hold that at 20 degC takes 2.71
  // %
  // (computed by hand); about 2 % and a warmer mold is common practice, no source.
  @Test
  void aGelCoatStaysNearTheMiddleOfItsRangeInACoolShop() {
    Material coat =
        build(
            draft("gel-coat", 1.25).gel(13.5, 25, 1.8).doseByWeightPct(1, 3).temperatureC(15, 30));
    MixAnswer cool = question(coat, 20).answer();
    assertEquals(2.2, cool.dose().orElseThrow().doseByWeightPct(), 0.03);
    String words =
        cool.warnings().stream()
            .filter(warning -> warning.field().equals("dose"))
            .findFirst()
            .orElseThrow()
            .reason();
    assertTrue(words.contains("Warm the mold to 22."), words);
    MixAnswer warm = question(coat, 25).answer();
    assertEquals(1.8, warm.dose().orElseThrow().doseByWeightPct(), 0.03);
    assertFalse(warned(warm).contains("dose"));
  }
}
