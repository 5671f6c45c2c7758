package org.layroom.device.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomVerdict;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.material.TemperatureRange;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.AirWarning.Sound;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.VaporWatch;
import org.layroom.predictor.vapor.WatchSettings;
import org.layroom.predictor.verdict.State;

/**
 * What the lamps say of mixing, with the dashboard there and away. Limits: 15 to 35 degC and a
 * surface 3 °C above the dew point (ISO 8502-4, by analogy), 80 % of humidity (common practice).
 */
class MixLampsTest {
  private static final Instant START = Instant.parse("2026-03-14T19:00:00Z");

  private final MixLamp sign = new MixLamp();
  private Duration now = Duration.ofMinutes(1);
  private VaporWatch watch = cleanAir();

  /** A chip that has been read in clean air for a quarter of an hour. */
  private static VaporWatch cleanAir() {
    VaporWatch one =
        VaporWatch.started(
            WatchSettings.workRoom(VaporSensor.Chip.with(CleanAirReading.of(30_000, START))),
            START);
    for (int second = 10; second <= 960; second += 10) {
      one =
          one.plus(
              new AirEvent.Ticks(
                  START.plusSeconds(second),
                  30_000 + second / 10 % 3,
                  Optional.of(new AirEvent.Climate(20, 50)),
                  Optional.empty()));
    }
    return one;
  }

  private static VaporWatch unknownAir() {
    return VaporWatch.started(WatchSettings.workRoom(VaporSensor.Chip.fresh()), START);
  }

  private void measured(double airC, double humidityPct, double moldC) {
    accept(
        List.of(
            Reading.of(Series.TEMPERATURE, Series.CELSIUS, airC),
            Reading.of(Series.HUMIDITY, Series.RELATIVE_HUMIDITY, humidityPct),
            Reading.of(Series.MOLD_TEMPERATURE, Series.CELSIUS, moldC)));
  }

  private void accept(List<Reading> readings) {
    sign.accept(new Sample(now, START, true, readings, List.of()));
  }

  private void dashboardSays(State verdict) {
    sign.told(new RoomVerdict(Optional.of(verdict), Optional.empty()), now);
  }

  private State says() {
    return sign.state(watch, now);
  }

  @Test
  void withNoDashboardAtAllAWarmDryAiredRoomIsReady() {
    assertEquals(AirCall.OK, watch.call());
    measured(20, 50, 20);
    assertEquals(State.MIX, says());
  }

  @Test
  void aColdOrDampRoomWaitsWithNoDashboardAtAll() {
    measured(20, 50, 14.9);
    assertEquals(State.NO, says());
    measured(20, 50, 35.1);
    assertEquals(State.NO, says());
    measured(20, 81, 20);
    assertEquals(State.WAIT, says());
    measured(20, 95, 20);
    assertEquals(State.NO, says());
  }

  @Test
  void nothingIsReadyBeforeEverythingWasMeasured() {
    assertEquals(State.UNKNOWN, says());
    accept(List.of(Reading.of(Series.MOLD_TEMPERATURE, Series.CELSIUS, 20)));
    assertEquals(State.UNKNOWN, says());
    measured(20, 50, 20);
    watch = unknownAir();
    assertEquals(State.UNKNOWN, says());
  }

  @Test
  void aSensorThatFailsOrIsInDoubtTakesReadyAwayAtOnce() {
    measured(20, 50, 20);
    accept(List.of(Reading.missing(Series.MOLD_TEMPERATURE, Series.CELSIUS, "no answer")));
    assertEquals(State.UNKNOWN, says());
    measured(20, 50, 20);
    accept(
        List.of(
            Reading.of(
                Series.MOLD_TEMPERATURE, Series.CELSIUS, 29, Quality.suspect("jumped by 9.0"))));
    assertEquals(State.UNKNOWN, says());
  }

  @Test
  void readingsOlderThanHalfAnHourSayNothing() {
    measured(20, 50, 20);
    now = now.plusMinutes(31);
    assertEquals(State.UNKNOWN, says());
  }

  @Test
  void ofSeveralMoldsTheColdestCounts() {
    measured(20, 50, 20);
    accept(List.of(Reading.of(Series.MOLD_TEMPERATURE + "/hatch", Series.CELSIUS, 12)));
    assertEquals(State.NO, says());
  }

  @Test
  void aMoldInPostCureIsTooHotAndNoFailure() {
    measured(20, 50, 80);
    assertEquals(State.NO, says());
  }

  @Test
  void theDashboardsVerdictCountsWhileItIsFreshAndWhereItIsTheWorse() {
    measured(20, 50, 20);
    dashboardSays(State.NO);
    assertEquals(State.NO, says());
    now = now.plus(MixLamp.STANDS.minusSeconds(1));
    assertEquals(State.NO, says());
    now = now.plusSeconds(1);
    assertEquals(State.MIX, says());
    measured(20, 50, 10);
    dashboardSays(State.MIX);
    assertEquals(State.NO, says(), "the mold at hand is cold");
  }

  @Test
  void whereAnotherDeviceMeasuresTheMoldTheDashboardSpeaksForItAndNeverForTheAir() {
    dashboardSays(State.MIX);
    assertEquals(State.MIX, says());
    watch = unknownAir();
    assertEquals(State.UNKNOWN, says());
  }

  @Test
  void aDashboardThatGoesAwayLeavesTheLimitsOfTheChosenCan() {
    sign.told(
        new RoomVerdict(Optional.of(State.NO), Optional.of(new TemperatureRange(18, 27))), now);
    now = now.plusMinutes(10);
    measured(20, 50, 17.9);
    assertEquals(State.NO, says());
    measured(20, 50, 27.1);
    assertEquals(State.NO, says());
    measured(20, 50, 18);
    assertEquals(State.MIX, says());
  }

  private LampSignal signal(AirCall call, State mix, Duration at) {
    return LampSignal.of(call, mix, Sound.SILENT, at, at, false);
  }

  /** The lamps over sixteen seconds, as somebody sees them who cannot tell colors. */
  private List<LampSignal> seen(AirCall call, State mix) {
    List<LampSignal> all = new ArrayList<>();
    for (Duration at = Duration.ZERO; at.toSeconds() < 16; at = at.plus(LocalAlarm.BEAT)) {
      all.add(signal(call, mix, at));
    }
    return all;
  }

  @Test
  void everyStateIsToldByPlaceAndRhythm() {
    Set<List<LampSignal>> different = new HashSet<>();
    int states = 0;
    for (State mix : EnumSet.of(State.MIX, State.WAIT, State.UNKNOWN)) {
      different.add(seen(AirCall.OK, mix));
      states++;
    }
    for (AirCall call : EnumSet.of(AirCall.VENTILATE, AirCall.UNKNOWN, AirCall.LEAVE)) {
      different.add(seen(call, State.WAIT));
      states++;
    }
    assertEquals(states, different.size());
    assertFalse(
        different.contains(
            seen(AirCall.OK, State.MIX).stream().map(s -> LampSignal.DARK).toList()));
  }

  @Test
  void readyToMixIsNeverLitForAnythingElse() {
    for (AirCall call : AirCall.values()) {
      for (State mix : State.values()) {
        boolean ready = call == AirCall.OK && mix == State.MIX;
        assertEquals(
            ready, seen(call, mix).stream().anyMatch(LampSignal::mixLamp), call + " " + mix);
      }
    }
  }

  @Test
  void aLampThatADeadProgramHasLeftOnLooksOtherwiseThanReadyToMix() {
    List<LampSignal> ready = seen(AirCall.OK, State.MIX);
    long dark = ready.stream().filter(one -> !one.mixLamp()).count();
    assertEquals(8, dark, "half a second in each four of the sixteen");
    assertTrue(ready.stream().noneMatch(LampSignal::waitLamp));
  }

  @Test
  void withLeaveNoOtherLampIsLit() {
    for (LampSignal one : seen(AirCall.LEAVE, State.NO)) {
      assertFalse(one.mixLamp() || one.waitLamp() || one.ventilateLamp());
    }
  }
}
