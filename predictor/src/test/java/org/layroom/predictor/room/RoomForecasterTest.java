package org.layroom.predictor.room;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.cure.TemperatureOutlook;

/** What the room forecast promises, on rooms whose truth is known because they are invented. */
class RoomForecasterTest {
  private static final Instant START = Instant.parse("2026-01-05T00:00:00Z");
  private static final Duration THREE_DAYS = Duration.ofDays(3);

  private static Instant hour(double hours) {
    return START.plusSeconds(Math.round(hours * 3600));
  }

  private static RoomForecaster after(List<RoomReading> readings) {
    RoomForecaster forecaster = new RoomForecaster();
    readings.forEach(forecaster::add);
    return forecaster;
  }

  private static RoomForecast forecast(RoomForecaster forecaster, Instant at) {
    return assertInstanceOf(RoomForecast.class, forecaster.forecast(at, THREE_DAYS));
  }

  /** A room that swings by three kelvin around fifteen degrees, warmest at 15:00. */
  private static double swing(double hours) {
    return 15 + 3 * Math.cos(2 * Math.PI * (hours - 15) / 24);
  }

  private static List<RoomReading> swinging(double fromHour, double toHour, double everyHours) {
    List<RoomReading> readings = new ArrayList<>();
    for (int i = 0; fromHour + i * everyHours <= toHour + 1e-9; i++) {
      double at = fromHour + i * everyHours;
      readings.add(RoomReading.air(hour(at), swing(at)));
    }
    return readings;
  }

  private static double worst(RoomForecast forecast) {
    double worst = 0;
    for (ForecastPoint point : forecast.air().points()) {
      double hours = Duration.between(START, point.time()).toSeconds() / 3600.0;
      worst = Math.max(worst, Math.abs(point.p50() - swing(hours)));
    }
    return worst;
  }

  @Test
  void aRoomThatSwingsTheSameEveryDayIsForecastToGoOnSwinging() {
    assertTrue(worst(forecast(after(swinging(0, 240, 1 / 6.0)), hour(240))) < 0.5);
  }

  @Test
  void minutesHoursAndTenMinutesTellTheSameRoom() {
    for (double every : new double[] {1 / 60.0, 1 / 6.0, 0.5, 1}) {
      double worst = worst(forecast(after(swinging(0, 168, every)), hour(168)));
      assertTrue(worst < 0.8, "every " + every + " h: " + worst + " K");
    }
  }

  @Test
  void pointsAreTenMinutesApartFromTenMinutesAfterTheTimeAskedFor() {
    Instant at = hour(100).plusSeconds(137);
    List<ForecastPoint> points = forecast(after(swinging(0, 100, 1)), at).air().points();
    assertEquals(432, points.size());
    for (int i = 0; i < points.size(); i++) {
      assertEquals(at.plus(Duration.ofMinutes(10L * (i + 1))), points.get(i).time());
    }
  }

  @Test
  void theBandIsInOrderAndGrowsFromTheNextHourToTheNextDay() {
    List<RoomReading> readings =
        new SyntheticRoom(SyntheticRoom.Heating.NONE, 3).days(20, 10, true);
    RoomForecaster forecaster = after(readings);
    List<ForecastPoint> points =
        forecast(forecaster, readings.get(readings.size() - 1).time()).air().points();
    points.forEach(p -> assertTrue(p.p10() < p.p50() && p.p50() < p.p90(), p.toString()));
    assertTrue(width(points.get(143)) > width(points.get(5)));
  }

  private static double width(ForecastPoint point) {
    return point.p90() - point.p10();
  }

  @Test
  void onePathInTenLiesBelowTheBandAndOneAbove() {
    List<RoomReading> readings =
        new SyntheticRoom(SyntheticRoom.Heating.NONE, 3).days(20, 10, true);
    SeriesForecast air = forecast(after(readings), readings.get(readings.size() - 1).time()).air();
    for (int i = 5; i < air.points().size(); i += 6) {
      ForecastPoint point = air.points().get(i);
      int below = 0;
      int above = 0;
      for (int p = 0; p < air.pathCount(); p++) {
        below += air.path(p)[i] < point.p10() ? 1 : 0;
        above += air.path(p)[i] > point.p90() ? 1 : 0;
      }
      assertEquals(25.6, below, 2, "paths below at step " + i);
      assertEquals(25.6, above, 2, "paths above at step " + i);
    }
  }

  @Test
  void readingsAfterTheTimeAskedForAreNeverLookedAt() {
    RoomForecaster forecaster = after(swinging(0, 101, 1));
    assertThrows(
        IllegalArgumentException.class, () -> forecaster.forecast(hour(100.5), THREE_DAYS));
  }

  @Test
  void theSameReadingsGiveTheSameDigits() {
    List<RoomReading> readings =
        new SyntheticRoom(SyntheticRoom.Heating.BY_HAND, 9).days(9, 10, true);
    Instant at = readings.get(readings.size() - 1).time();
    RoomForecaster asked = new RoomForecaster();
    for (RoomReading reading : readings) {
      asked.add(reading);
      if (reading.time().equals(hour(100))) {
        asked.forecast(reading.time(), THREE_DAYS);
      }
    }
    RoomForecast first = forecast(after(readings), at);
    RoomForecast second = forecast(asked, at);
    assertEquals(first.air().points(), second.air().points());
    assertTrue(Arrays.equals(first.air().path(77), second.air().path(77)));
    assertEquals(first.humidity().orElseThrow().points(), second.humidity().orElseThrow().points());
  }

  @Test
  void tooLittleHistoryIsRefusedWithWhatIsNeeded() {
    NoForecast none =
        assertInstanceOf(NoForecast.class, new RoomForecaster().forecast(START, THREE_DAYS));
    NoForecast twoHours =
        assertInstanceOf(
            NoForecast.class, after(swinging(0, 2, 1 / 6.0)).forecast(hour(2), THREE_DAYS));
    assertEquals("history", none.refused().get(0).field());
    assertTrue(twoHours.refused().get(0).reason().contains("three hours"));
    assertTrue(twoHours.refused().get(0).value().contains("2.0 h"));
  }

  @Test
  void aRoomNotSeenForThreeDaysIsRefused() {
    NoForecast old =
        assertInstanceOf(
            NoForecast.class, after(swinging(0, 100, 1)).forecast(hour(172), THREE_DAYS));
    assertTrue(old.refused().get(0).reason().contains("The last reading is too old"));
  }

  @Test
  void threeHoursOfHistoryGiveABandThatAdmitsHowLittleIsKnown() {
    RoomForecast new_ = forecast(after(swinging(0, 3, 1 / 6.0)), hour(3));
    RoomForecast known = forecast(after(swinging(0, 243, 1 / 6.0)), hour(243));
    assertTrue(width(new_.air().points().get(71)) > 3 * width(known.air().points().get(71)));
    assertEquals(0, new_.skill().nights());
  }

  @Test
  void theSwingComesThroughAGapOfADay() {
    List<RoomReading> readings = swinging(0, 200, 1 / 6.0);
    readings.addAll(swinging(226, 236, 1 / 6.0));
    assertTrue(worst(forecast(after(readings), hour(236))) < 1);
  }

  @Test
  void theLongerTheRoomWasNotSeenTheWiderTheBand() {
    List<RoomReading> readings =
        new SyntheticRoom(SyntheticRoom.Heating.NONE, 4).days(20, 10, false);
    Instant newest = readings.get(readings.size() - 1).time();
    RoomForecaster forecaster = after(readings);
    double now = width(forecast(forecaster, newest).air().points().get(5));
    double late =
        width(forecast(forecaster, newest.plus(Duration.ofHours(12))).air().points().get(5));
    assertTrue(late > 1.5 * now, late + " K against " + now + " K");
  }

  @Test
  void aJumpThatStaysIsSaidAndWidensTheBand() {
    List<RoomReading> readings = swinging(0, 300, 1 / 6.0);
    double before = width(forecast(after(readings), hour(300)).air().points().get(17));
    for (double h = 300 + 1 / 6.0; h < 303; h += 1 / 6.0) {
      readings.add(RoomReading.air(hour(h), swing(h) + 4));
    }
    RoomForecast forecast = forecast(after(readings), hour(303));
    assertEquals(1, forecast.changes().size());
    assertEquals(4, forecast.changes().get(0).stepK(), 1.5);
    assertTrue(forecast.changes().get(0).words().contains("sensor moved"));
    assertTrue(width(forecast.air().points().get(17)) > 1.3 * before);
    assertTrue(Math.abs(forecast.air().points().get(0).p50() - swing(303.2) - 4) < 1);
  }

  @Test
  void anOrdinaryRoomIsNotAccusedOfJumps() {
    List<RoomReading> readings =
        new SyntheticRoom(SyntheticRoom.Heating.NONE, 11).days(30, 10, false);
    assertTrue(
        forecast(after(readings), readings.get(readings.size() - 1).time()).changes().isEmpty());
  }

  @Test
  void aSingleWildReadingDoesNotThrowTheForecastOff() {
    List<RoomReading> readings = swinging(0, 240, 1 / 6.0);
    readings.add(RoomReading.air(hour(240 + 1 / 6.0), 45));
    readings.addAll(swinging(240 + 2 / 6.0, 242, 1 / 6.0));
    assertTrue(worst(forecast(after(readings), hour(242))) < 1.5);
  }

  @Test
  void aReadingOlderThanTheNewestIsNotUsed() {
    RoomForecaster forecaster = after(swinging(0, 100, 1));
    assertFalse(forecaster.add(RoomReading.air(hour(50), 40)));
  }

  @Test
  void impossibleReadingsAreRefusedWithTheRange() {
    IllegalArgumentException e =
        assertThrows(IllegalArgumentException.class, () -> RoomReading.air(START, 85));
    assertTrue(String.valueOf(e.getMessage()).contains("between -40.0 and 60.0 degC"));
  }

  @Test
  void humidityStaysBetweenZeroAndAHundred() {
    List<RoomReading> readings =
        new SyntheticRoom(SyntheticRoom.Heating.NONE, 5).days(10, 10, false);
    RoomForecast forecast = forecast(after(readings), readings.get(readings.size() - 1).time());
    forecast
        .humidity()
        .orElseThrow()
        .points()
        .forEach(
            p -> assertTrue(p.p10() > 0 && p.p90() <= 100 && p.p10() <= p.p90(), p.toString()));
    assertEquals(432, forecast.mold().orElseThrow().points().size());
  }

  @Test
  void theMoldsPathsRunWithTheAirsPaths() {
    List<RoomReading> readings =
        new SyntheticRoom(SyntheticRoom.Heating.NONE, 5).days(20, 10, false);
    RoomForecast forecast = forecast(after(readings), readings.get(readings.size() - 1).time());
    int together = 0;
    for (int p = 0; p < RoomForecaster.PATHS; p++) {
      boolean warmAir = forecast.air().path(p)[100] > forecast.air().points().get(100).p50();
      boolean warmMold =
          forecast.moldOrAir().path(p)[100] > forecast.moldOrAir().points().get(100).p50();
      together += warmAir == warmMold ? 1 : 0;
    }
    assertTrue(together > 250, together + " of 256");
  }

  @Test
  void theClocksGetPathsThatCountFromMixing() {
    List<RoomReading> readings =
        new SyntheticRoom(SyntheticRoom.Heating.NONE, 5).days(20, 10, false);
    Instant at = readings.get(readings.size() - 1).time();
    SeriesForecast air = forecast(after(readings), at).air();
    TemperatureOutlook outlook = air.outlookFrom(at.plus(Duration.ofMinutes(95)), 256);
    assertEquals(256, outlook.paths().size());
    assertEquals(air.path(7)[9], outlook.paths().get(7).at(5), 1e-9);
    assertEquals(air.path(7)[431], outlook.paths().get(7).at(4225), 1e-9);
  }

  @Test
  void anOutdoorForecastHelpsAnUnheatedRoomAndIsNeverNeeded() {
    SyntheticRoom room = new SyntheticRoom(SyntheticRoom.Heating.NONE, 21);
    List<RoomReading> readings = room.days(90, 10, false);
    RoomForecaster with = new RoomForecaster(Optional.of(OutdoorSeries.of(room.outdoors())));
    RoomForecaster without = new RoomForecaster();
    RecordedRoom truth = RecordedRoom.of("truth", readings);
    double errorWith = 0;
    double errorWithout = 0;
    for (RoomReading reading : readings) {
      long minute = reading.time().getEpochSecond() / 60;
      if (minute % 360 == 0 && reading.time().isAfter(readings.get(144 * 20).time())) {
        double then = truth.at(minute + 24 * 60, 6);
        if (!Double.isNaN(then)) {
          errorWith += Math.abs(with.airPoints(reading.time(), 144).get(143).p50() - then);
          errorWithout += Math.abs(without.airPoints(reading.time(), 144).get(143).p50() - then);
        }
      }
      with.add(reading);
      without.add(reading);
    }
    assertTrue(errorWith < 0.8 * errorWithout, errorWith + " against " + errorWithout);
  }

  @Test
  void theErrorOfTheLastNightsIsWhatAPersonWouldReckon() {
    Random random = new Random(2);
    List<RoomReading> readings = swinging(0, 24 * 30, 1 / 6.0);
    readings.replaceAll(
        r -> RoomReading.air(r.time(), r.airC().getAsDouble() + 0.05 * random.nextGaussian()));
    RoomSkill skill = forecast(after(readings), hour(24 * 30)).skill();
    assertEquals(14, skill.nights());
    assertTrue(skill.overnightErrorK() > 0.02 && skill.overnightErrorK() < 0.3, skill.words());
    assertTrue(
        skill
            .words()
            .matches(
                "Overnight forecasts were off by 0\\.\\d °C on average over the last 14 nights\\."),
        skill.words());
  }
}
