package org.layroom.predictor.verdict;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.Locale;
import java.util.Optional;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialDraft;

/** The mix check as statements about the room. Limits as in the shop rules cited in ShopLimits. */
class MixCheckTest {
  private static final AirState AIRED = AirState.of(AirState.Kind.OK, "", 1.2);
  private static final Material RESIN = material("laminating-resin", false);

  private static Material material(String kind, boolean waxed) {
    try {
      return new MaterialDraft()
          .id("shop-can")
          .name("Shop can")
          .kind(kind)
          .gel(20, 20, 1.5)
          .doseByWeightPct(1, 2.5)
          .waxed(waxed)
          .build();
    } catch (InvalidMaterial e) {
      throw new IllegalStateException(e);
    }
  }

  private static Conditions room(double airC, double humidityPct, double moldC) {
    return Conditions.nothingKnown()
        .withAirC(Condition.typed(airC))
        .withHumidityPct(Condition.typed(humidityPct))
        .withMoldC(Condition.typed(moldC))
        .withAir(AIRED);
  }

  private static Verdict check(Conditions conditions) {
    return MixCheck.check(Optional.of(RESIN), conditions);
  }

  @Test
  void aWarmDryAiredRoomIsReadyToMix() {
    Verdict verdict = check(room(21, 55, 20));
    assertEquals("mix", verdict.verdict().id());
    assertEquals("ready to mix", verdict.verdict().words());
    assertEquals("Warm enough: mold 20.0 °C.", verdict.warm().words());
    // Dew point of 21 degC / 55 % by hand with Magnus (WMO-No. 8): 11.61 degC, margin 8.39 K.
    assertEquals(11.6, verdict.dewPointC().getAsDouble(), 0.05);
    assertEquals(8.4, verdict.dewPointMarginK().getAsDouble(), 0.05);
    assertEquals(
        "Dry enough: humidity 55 %, mold 8.4 °C above the dew point.", verdict.dry().words());
    assertEquals(
        "No rise seen: 1.2 times clean air, not a styrene measurement.", verdict.air().words());
  }

  @ParameterizedTest
  @CsvSource({
    "8.2,no,'Too cold: mold 8.2 °C, limit 10 °C. Warm it before you mix.'",
    "12,no,'Too cold: mold 12.0 °C, limit 15 °C. Warm it before you mix.'",
    "16,mix,'Cool but workable: mold 16.0 °C; better at 18 °C or more. It hardens slowly;"
        + " warm it if you can.'",
    "19.5,mix,Warm enough: mold 19.5 °C.",
    "80,no,'Too hot: mold 80.0 °C, limit 35 °C. Cool it before you mix.'",
    "31,mix,'Hot: mold 31.0 °C; from 31 °C a spark can ignite the vapor. No flames or sparks."
        + " Mix small cups.'",
    "36,no,'Too hot: mold 36.0 °C, limit 35 °C. Cool it before you mix.'"
  })
  void theMoldTemperatureDecidesWarmth(double moldC, String verdict, String words) {
    Verdict answer = check(room(30, 30, moldC).withAirC(Condition.typed(10)));
    assertEquals(words, answer.warm().words());
    assertEquals(verdict, answer.verdict().id());
  }

  @Test
  void coldResinStopsTheMixAsAColdMoldDoes() {
    Verdict verdict = check(room(21, 50, 21).withResinC(Condition.typed(9)));
    assertEquals(State.NO, verdict.verdict());
    assertEquals(
        "Too cold: resin 9.0 °C, limit 10 °C. Warm it before you mix.", verdict.warm().words());
  }

  @Test
  void theCansOwnTemperaturesBindToo() throws InvalidMaterial {
    Material narrow =
        new MaterialDraft()
            .id("narrow")
            .name("Narrow can")
            .kind("laminating-resin")
            .gel(20, 20, 1.5)
            .doseByWeightPct(1, 2)
            .temperatureC(18, 25)
            .build();
    Verdict cold = MixCheck.check(Optional.of(narrow), room(20, 40, 17));
    assertEquals(
        "Too cold: mold 17.0 °C, limit 18 °C. Warm it before you mix.", cold.warm().words());
    assertEquals(State.NO, cold.verdict());
    assertEquals(State.NO, MixCheck.check(Optional.of(narrow), room(26, 40, 26)).verdict());
  }

  @Test
  void gelCoatAbove27NeedsSmallCups() {
    Verdict verdict = MixCheck.check(Optional.of(material("gel-coat", false)), room(28, 40, 28));
    assertEquals(State.MIX, verdict.verdict());
    assertEquals(
        "Warm for gel coat: mold 28.0 °C, limit 27 °C. Mix small cups.", verdict.warm().words());
  }

  @Test
  void withoutAMoldReadingWarmthIsNotGuessedFromTheAir() {
    Verdict verdict =
        check(
            Conditions.nothingKnown()
                .withAirC(Condition.typed(21))
                .withHumidityPct(Condition.typed(50))
                .withAir(AIRED));
    assertEquals(State.UNKNOWN, verdict.verdict());
    assertEquals(Finding.UNKNOWN, verdict.warm().state());
    assertTrue(verdict.dewPointMarginK().isPresent(), "the air's own margin is still shown");
  }

  @Test
  void anOldMoldReadingIsAskedForAgain() {
    Conditions room = room(21, 50, 20);
    Verdict fresh = check(room.withMoldC(Condition.measured(20, Duration.ofMinutes(30))));
    assertEquals(State.MIX, fresh.verdict());
    assertEquals(Optional.of(Duration.ZERO), fresh.validFor());
    Verdict stale = check(room.withMoldC(Condition.measured(20, Duration.ofMinutes(31))));
    assertEquals(State.UNKNOWN, stale.verdict());
    assertEquals(
        "Warmth unknown: the mold reading is 31 min old; the limit is 30 min. Measure the mold"
            + " surface and enter it.",
        stale.warm().words());
  }

  @Test
  void withoutHumidityDrynessIsUnknown() {
    Verdict verdict =
        check(
            Conditions.nothingKnown()
                .withAirC(Condition.typed(21))
                .withMoldC(Condition.typed(20))
                .withAir(AIRED));
    assertEquals(State.UNKNOWN, verdict.verdict());
    assertEquals("Dryness unknown: no humidity. Measure it and enter it.", verdict.dry().words());
    assertTrue(verdict.dewPointC().isEmpty());
  }

  // Dew point of 20 degC / 80 %: 16.44 degC (Magnus, WMO-No. 8). The 3 K rule is from steel coating
  // (ISO 8502-4), by analogy; 1 K and 90 % are this project's choice.
  @ParameterizedTest
  @CsvSource({
    "20,80,19.5,mix",
    "20,80,19.4,wait",
    "20,80,17.5,wait",
    "20,80,17.4,no",
    "20,80,15.9,no",
    "24,80.5,24,wait",
    "24,90,24,wait",
    "24,90.5,24,no"
  })
  void moistureFollowsDewPointAndHumidity(
      double airC, double humidityPct, double moldC, String verdict) {
    assertEquals(verdict, check(room(airC, humidityPct, moldC)).verdict().id());
  }

  @Test
  void aMarginOfThreeKelvinSaysWhereTheRuleComesFrom() {
    String words = check(room(20, 80, 18.5)).dry().words();
    assertTrue(words.contains("a steel-coating rule, used by analogy"), words);
    assertTrue(
        words.startsWith("Nearly wet: mold only 2.1 °C above the dew point (16.4 °C)"), words);
  }

  @Test
  void waterOnTheMoldIsANo() {
    assertEquals(State.NO, check(room(21, 50, 20).withMoldWet(true)).verdict());
  }

  @ParameterizedTest
  @CsvSource({"OK,mix", "VENTILATE,wait", "LEAVE,no", "UNKNOWN,unknown"})
  void theAirStateBinds(AirState.Kind kind, String verdict) {
    Conditions room = room(21, 50, 20).withAir(AirState.of(kind, "as measured"));
    assertEquals(verdict, check(room).verdict().id());
  }

  @Test
  void noOutranksWaitAndWaitOutranksUnknown() {
    Conditions airUnknown = room(21, 50, 20).withAir(AirState.notMeasured());
    assertEquals(State.UNKNOWN, check(airUnknown).verdict());
    Conditions damp = airUnknown.withHumidityPct(Condition.typed(81)).withAirC(Condition.typed(20));
    assertEquals(State.WAIT, check(damp).verdict());
    Conditions cold = damp.withMoldC(Condition.typed(5));
    assertEquals(State.NO, check(cold).verdict());
    assertEquals(Finding.NO, check(cold).reasons().get(0).state(), "the worst reason comes first");
  }

  @Test
  void aWaxedCoatIsWarnedOf() {
    Verdict verdict = MixCheck.check(Optional.of(material("finish-coat", true)), room(21, 50, 20));
    assertEquals(State.MIX, verdict.verdict());
    assertTrue(
        verdict.reasons().stream()
            .anyMatch(
                reason ->
                    reason.about().equals("material")
                        && reason.state() == Finding.WARN
                        && reason.words().contains("last coat only")));
  }

  @Test
  void aDriftingMoldMakesABand() {
    assertTrue(
        check(room(21, 50, 20).withMoldDriftKPerH(-3.5))
            .warm()
            .words()
            .contains("Times are less certain."));
    assertEquals(Finding.OK, check(room(21, 50, 20).withMoldDriftKPerH(3)).warm().state());
  }

  @Provide
  Arbitrary<Conditions> rooms() {
    Arbitrary<Double> temperature = Arbitraries.doubles().between(-5, 45);
    Arbitrary<AirState> air =
        Arbitraries.of(AirState.Kind.class).map(kind -> AirState.of(kind, "", 2.5));
    return Combinators.combine(
            temperature.optional(0.8),
            Arbitraries.doubles().between(0, 100).optional(0.8),
            temperature.optional(0.8),
            temperature.optional(0.5),
            air)
        .as(
            (airC, humidity, mold, resin, airState) ->
                new Conditions(
                    airC.map(Condition::typed),
                    humidity.map(Condition::typed),
                    mold.map(Condition::typed),
                    resin.map(Condition::typed),
                    java.util.OptionalDouble.empty(),
                    false,
                    airState));
  }

  @Property
  void aDamperRoomNeverImprovesTheVerdict(
      @ForAll("rooms") Conditions room, @ForAll @DoubleRange(min = 0.1, max = 50) double damper) {
    if (room.humidityPct().isEmpty() || room.humidityPct().get().value() == 0) {
      return;
    }
    double humidity = Math.min(100, room.humidityPct().get().value() + damper);
    State after = check(room.withHumidityPct(Condition.typed(humidity))).verdict();
    assertTrue(after.compareTo(check(room).verdict()) >= 0);
  }

  @Property
  void aColderMoldNeverImprovesTheVerdictBelowTheHotLimit(
      @ForAll("rooms") Conditions room, @ForAll @DoubleRange(min = 0.1, max = 30) double colder) {
    if (room.moldC().isEmpty() || room.moldC().get().value() > 35) {
      return;
    }
    double moldC = Math.max(-40, room.moldC().get().value() - colder);
    State after = check(room.withMoldC(Condition.typed(moldC))).verdict();
    assertTrue(after.compareTo(check(room).verdict()) >= 0);
  }

  @Property
  void aMissingReadingIsNeverReadyToMix(@ForAll("rooms") Conditions room) {
    boolean missing =
        room.airC().isEmpty()
            || room.humidityPct().isEmpty()
            || room.moldC().isEmpty()
            || room.air().kind() == AirState.Kind.UNKNOWN;
    assertFalse(missing && check(room).verdict() == State.MIX);
  }

  @Property
  void noSentenceSaysSafeOrCuredOrPpm(@ForAll("rooms") Conditions room) {
    for (Reason reason : check(room).reasons()) {
      String words = reason.words().toLowerCase(Locale.ROOT);
      assertFalse(
          words.contains("safe") || words.contains("cured") || words.contains("ppm"), words);
    }
  }
}
