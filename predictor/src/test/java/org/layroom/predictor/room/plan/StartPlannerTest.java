package org.layroom.predictor.room.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.cure.MaterialPosterior;
import org.layroom.predictor.hardening.Hardening;
import org.layroom.predictor.material.MaterialKind;
import org.layroom.predictor.material.TemperatureRange;
import org.layroom.predictor.room.RoomForecast;
import org.layroom.predictor.room.RoomForecaster;
import org.layroom.predictor.room.RoomReading;
import org.layroom.predictor.room.RoomResponse;

/** When to start, on invented rooms that do the same every day, so that tomorrow is known. */
class StartPlannerTest {
  private static final Instant START = Instant.parse("2026-01-05T00:00:00Z");
  private static final Instant EVENING = START.plus(Duration.ofHours(14 * 24 + 18));
  private static final WakingHours DAY =
      new WakingHours(LocalTime.of(7, 0), LocalTime.of(22, 0), ZoneOffset.UTC);

  /** A can of 20 min at 20 degC with 1.5 %, mixed from 15 to 35 degC, out of the mold in a day. */
  private static PlanStep step(MaterialKind kind) {
    return new PlanStep(
        kind.words(),
        kind,
        MaterialPosterior.untested(20, 20, 1.5, 54, 0.9),
        1.5,
        new TemperatureRange(15, 35),
        Duration.ofMinutes(30),
        Hardening.typical().claiming(OptionalDouble.of(24)));
  }

  private static RoomForecast room(DoubleUnaryOperator byHour) {
    RoomForecaster room = new RoomForecaster();
    for (Instant t = START; !t.isAfter(EVENING); t = t.plusSeconds(600)) {
      double hour = Duration.between(START, t).toMinutes() / 60.0;
      room.add(RoomReading.air(t, byHour.applyAsDouble(hour)));
    }
    return assertInstanceOf(RoomForecast.class, room.forecast(EVENING, Duration.ofDays(3)));
  }

  /** Warmest at 3 p.m. */
  private static DoubleUnaryOperator swinging(double mean, double by) {
    return hour -> mean + by * Math.cos(2 * Math.PI * (hour - 15) / 24);
  }

  private static StartPlan plan(RoomForecast forecast) {
    return StartPlanner.plan(forecast, List.of(step(MaterialKind.LAMINATING_RESIN)), DAY);
  }

  @Test
  void everyStartOfTheWakingDayIsEitherProposedOrSaysWhatGoesWrong() {
    StartPlan plan = plan(room(swinging(17, 4)));
    // Three days from 18:00 with 30 half hours awake in each: 8 of tonight, 2 x 30, then 22.
    assertEquals(3 * 30, plan.proposed().size() + plan.others().size());
    for (StartTime start : plan.proposed()) {
      assertTrue(DAY.contains(start.start()), start.start().toString());
      assertTrue(start.troubles().isEmpty());
    }
    for (StartTime start : plan.others()) {
      assertTrue(DAY.contains(start.start()), start.start().toString());
      assertFalse(start.troubles().isEmpty());
    }
  }

  @Test
  void aWarmMiddayIsProposedAndACoolMorningIsNot() {
    // 12 degC at 3 a.m., 14 degC at 7 a.m., above 15 degC from 8 a.m. on, 20 degC at 3 p.m.
    StartPlan plan = plan(room(swinging(16, 4)));
    Instant noon = START.plus(Duration.ofHours(15 * 24 + 12));
    Instant morning = START.plus(Duration.ofHours(15 * 24 + 7));
    assertTrue(plan.proposed().stream().anyMatch(start -> start.start().equals(noon)));
    StartTime early =
        plan.others().stream().filter(s -> s.start().equals(morning)).findFirst().orElseThrow();
    assertTrue(early.troubles().get(0).contains("needs 15 °C"), early.troubles().toString());
    assertTrue(early.chance() < 0.2, "chance " + early.chance());
  }

  @Test
  void aColdRoomHasNoStartAndSaysWhy() {
    StartPlan plan = plan(room(swinging(10, 2)));
    assertTrue(plan.proposed().isEmpty());
    for (StartTime start : plan.others()) {
      assertTrue(start.troubles().get(0).contains("may fall to"), start.troubles().toString());
    }
  }

  @Test
  void inARoomOfTwentyDegreesThePartIsLikelyOutAfterTheSheetsDay() {
    // "24 h at 20 °C" is what the can says; the clock's own band is wider than two hours.
    StartPlan plan = plan(room(hour -> 20));
    PlannedStep step =
        plan.proposed().stream()
            .filter(s -> s.demold().isPresent())
            .findFirst()
            .orElseThrow()
            .steps()
            .get(0);
    double demoldHours = step.stages().get(5).fromMinutes().p50() / 60;
    assertEquals("demold", step.stages().get(5).stage().id());
    assertEquals(24, demoldHours, 2);
  }

  @Test
  void theBestStartIsNoLessCertainThanAnyOther() {
    StartPlan plan = plan(room(swinging(17, 4)));
    double best = plan.proposed().get(0).chance();
    plan.proposed().forEach(s -> assertTrue(s.chance() <= best + 0.05, s.toString()));
    plan.proposed().forEach(s -> assertTrue(s.chance() >= 0.8, s.toString()));
  }

  @Test
  void laminateComesAfterTheGelCoatAndOnlyWhenSomeoneIsUp() {
    StartPlan plan =
        StartPlanner.plan(
            room(hour -> 20),
            List.of(step(MaterialKind.GEL_COAT), step(MaterialKind.LAMINATING_RESIN)),
            DAY);
    assertFalse(plan.proposed().isEmpty());
    for (StartTime start : plan.proposed()) {
      Instant gelCoat = start.steps().get(0).mixAt();
      Instant laminate = start.steps().get(1).mixAt();
      // Ready to laminate after several gel times, here well over 40 min (common practice, no
      // source).
      assertTrue(Duration.between(gelCoat, laminate).toMinutes() > 40, laminate.toString());
      assertTrue(DAY.contains(laminate), laminate.toString());
    }
  }

  @Test
  void workThatWouldRunPastTheDayIsNotProposed() {
    StartPlan plan = plan(room(hour -> 20));
    Instant late = START.plus(Duration.ofHours(14 * 24 + 21)).plus(Duration.ofMinutes(45));
    assertTrue(plan.proposed().stream().noneMatch(s -> isLate(s.start(), late)));
  }

  private static boolean isLate(Instant start, Instant late) {
    LocalTime clock = start.atZone(ZoneOffset.UTC).toLocalTime();
    return !clock.isBefore(late.atZone(ZoneOffset.UTC).toLocalTime().minusMinutes(15));
  }

  @Test
  void aPlanWithoutStepsIsRefused() {
    RoomForecast forecast = room(hour -> 20);
    assertThrows(IllegalArgumentException.class, () -> StartPlanner.plan(forecast, List.of(), DAY));
  }

  @Test
  void wakingHoursMayReachPastMidnight() {
    WakingHours late =
        new WakingHours(LocalTime.of(14, 0), LocalTime.of(2, 0), ZoneId.of("Europe/Paris"));
    assertTrue(late.contains(Instant.parse("2026-01-05T00:30:00Z"))); // 1:30 a.m. in Paris
    assertFalse(late.contains(Instant.parse("2026-01-05T01:30:00Z")));
    assertEquals(
        Instant.parse("2026-01-05T13:00:00Z"), late.next(Instant.parse("2026-01-05T01:30:00Z")));
  }

  private static RoomResponse response(double warming, double warmest, double tau, double drop) {
    return new RoomResponse(
        5,
        OptionalDouble.of(warming),
        OptionalDouble.of(warmest),
        3,
        OptionalDouble.of(drop),
        OptionalDouble.of(tau));
  }

  @Test
  void theMoldWarmsByNewtonsLaw() {
    // Air at once at 23 degC (three above the wanted 20), mold from 10 degC with 2 h: Newton's law
    // of cooling gives 2 ln((23 - 10) / (23 - 20)) = 2.933 h.
    Preheat preheat = Preheat.until(response(10_000, 30, 2, 3), 10, 10, 20);
    assertEquals(2 * Math.log(13 / 3.0), preheat.hours().orElseThrow(), 0.05);
    assertTrue(preheat.words().contains("no flame, no glowing element"), preheat.words());
    assertTrue(preheat.words().contains("before you open any can"), preheat.words());
  }

  @Test
  void aHeaterThatNeverGotTheRoomWarmIsNotTrustedTo() {
    Preheat preheat = Preheat.until(response(4, 16, 2, 3), 10, 10, 20);
    assertTrue(preheat.hours().isEmpty());
    assertTrue(preheat.words().contains("16.0 °C"), preheat.words());
  }

  @Test
  void aRoomNeverSeenWarmingUpSaysSo() {
    RoomResponse nothing =
        new RoomResponse(
            0,
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            0,
            OptionalDouble.empty(),
            OptionalDouble.empty());
    assertTrue(Preheat.until(nothing, 10, 10, 20).hours().isEmpty());
    assertEquals(0, Preheat.until(nothing, 21, 21, 20).hours().orElseThrow());
    assertTrue(Airing.costWords(nothing).contains("not known yet"));
    assertTrue(Airing.until(nothing, 8, 2, 6, 1).moldLossK().isEmpty());
  }

  @Test
  void theShortestAiringFollowsTheDilutionLaw() {
    // C = C0 exp(-n t), facts of dilution ventilation: a quarter at 6 air changes an hour takes
    // ln(4) / 6 h = 13.86 min, three times that where the air mixes badly by a factor of 3.
    RoomResponse room = response(4, 20, 2, 6);
    assertEquals(13.863, Airing.until(room, 8, 2, 6, 1).minutes(), 0.001);
    assertEquals(41.589, Airing.until(room, 8, 2, 6, 3).minutes(), 0.001);
    assertEquals(0, Airing.until(room, 1, 2, 6, 1).minutes());
    // The mold goes 1 - exp(-1/2) = 39.35 % of the way to air that is 6 K colder: 2.361 K an hour.
    assertEquals(2.361, Airing.until(room, 8, 2, 6, 1).moldLossPerHourK().orElseThrow(), 0.001);
    assertTrue(Airing.costWords(room).contains("2.4 °C"), Airing.costWords(room));
  }

  @Test
  void figuresThatMakeNoSenseAreRefused() {
    RoomResponse room = response(4, 20, 2, 6);
    assertThrows(IllegalArgumentException.class, () -> Airing.until(room, 0, 2, 6, 1));
    assertThrows(IllegalArgumentException.class, () -> Airing.until(room, 8, 2, 6, 0.5));
    assertThrows(IllegalArgumentException.class, () -> Preheat.until(room, 10, 10, 60));
    assertThrows(
        IllegalArgumentException.class,
        () -> new WakingHours(LocalTime.of(7, 0), LocalTime.of(7, 0), ZoneOffset.UTC));
  }

  @Test
  void heatingBeginsEarlyEnoughForTheStart() {
    RoomForecast forecast = room(swinging(14, 1));
    Instant start = EVENING.plus(Duration.ofHours(20));
    RoomResponse room = response(6, 25, 1.5, 3);
    Instant from = Preheat.from(room, forecast, start, 20).orElseThrow();
    double hours = Duration.between(from, start).toMinutes() / 60.0;
    // By hand: air 13 to 23 degC in 1.7 h, then 1.5 ln of what is left: between 2.5 and 5 h.
    assertTrue(hours >= 2.5 && hours <= 5, hours + " h");
    assertTrue(Preheat.from(response(6, 15, 1.5, 3), forecast, start, 20).isEmpty());
  }
}
