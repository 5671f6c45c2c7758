package org.layroom.device.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.chip.Sht4x;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.AirSensor;
import org.layroom.device.sampling.Sampler;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.sampling.ValueOrigin;
import org.layroom.device.sampling.VocSensor;
import org.layroom.device.simulated.SimulatedBench;
import org.layroom.device.simulated.SimulatedShop;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.predictor.emission.AirChanges;
import org.layroom.predictor.emission.Layup;
import org.layroom.predictor.emission.LayupAir;
import org.layroom.predictor.emission.PredictionCheck;
import org.layroom.predictor.emission.VentilatedRoom;
import org.layroom.predictor.exposure.AirSample;
import org.layroom.predictor.exposure.ExposureHistory;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.LeaveLevels;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.WatchSettings;

/**
 * The alarm in the simulated shop, through the real drivers and simulated chips. The truth is the
 * shop's own vapor, which the chips show with noise; its true 15-min and one-minute means are
 * worked out here from the truth, not by what is tested. Thresholds: this project's own choice, 3
 * times clean air for airing and, before a chip was seen in a job, 4 times for leaving.
 */
class AlarmScenariosTest {
  private static final Instant START = Instant.parse("2026-03-16T08:00:00Z");
  private static final Duration PERIOD = Duration.ofSeconds(10);

  /** A minute for its mean, and one in which ventilate sounds first. */
  private static final Duration LONGEST_DELAY = Duration.ofMinutes(2);

  private static final List<String> TABLE = new ArrayList<>();

  @AfterAll
  static void printTable() {
    System.out.printf(
        "%-34s %12s %14s %8s %8s%n", "scenario", "to ventilate", "to leave", "missed", "false");
    TABLE.forEach(System.out::println);
  }

  /** A true mean over a time, from values a sample period apart. */
  private static final class TrueMean {
    private final int length;
    private final Deque<Double> values = new ArrayDeque<>();
    private double sum;

    TrueMean(Duration over) {
      length = (int) (over.toSeconds() / PERIOD.toSeconds());
    }

    double plus(double value) {
      values.addLast(value);
      sum += value;
      if (values.size() > length) {
        sum -= values.removeFirst();
      }
      return sum / values.size();
    }
  }

  /** The shop with a device in it, and what was true and what was told, step by step. */
  private static final class Watched {
    private final SteppedPace pace = new SteppedPace(START);
    private final SimulatedShop shop = new SimulatedShop(START, ZoneOffset.UTC, 7);
    private final SimulatedBench bench =
        new SimulatedBench(
            () -> {
              shop.advanceTo(pace.now());
              return shop.truth();
            },
            pace::uptime);
    private final List<AlarmState> told = new ArrayList<>();
    private final LocalAlarm alarm;
    private final Sampler sampler;
    private final TrueMean quarter = new TrueMean(Duration.ofMinutes(15));
    private final TrueMean minute = new TrueMean(Duration.ofMinutes(1));
    private Optional<Instant> trueVentilate = Optional.empty();
    private Optional<Instant> trueLeave = Optional.empty();
    private Optional<Instant> toldVentilate = Optional.empty();
    private Optional<Instant> toldLeave = Optional.empty();
    private int falseAlarms;

    Watched(WatchSettings.Place place, Duration poweredFor) {
      shop.ownLayups(false);
      alarm =
          LocalAlarm.unwired(
              pace,
              new WatchSettings(
                  VaporSensor.Chip.with(CleanAirReading.of(SimulatedShop.cleanAirTicks(), START)),
                  place,
                  Duration.ofSeconds(30)),
              told::add);
      Sgp40 chip = new Sgp40(bench.i2c().device(SimulatedBench.VOC_ADDRESS), pace);
      VocSensor voc =
          poweredFor.isZero()
              ? new VocSensor(chip, ValueOrigin.LIVE)
              : VocSensor.poweredFor(poweredFor, chip, ValueOrigin.LIVE);
      List<Sensor> sensors =
          List.of(
              AirSensor.sht4x(
                  new Sht4x(bench.i2c().device(SimulatedBench.AIR_ADDRESS), pace),
                  ValueOrigin.LIVE),
              voc);
      sampler = new Sampler(pace, () -> sensors, alarm);
    }

    static Watched settled() {
      Watched watched = new Watched(WatchSettings.Place.WORK_ROOM, Duration.ofHours(2));
      watched.run(Duration.ofMinutes(30));
      assertEquals(AirCall.OK, watched.call());
      return watched;
    }

    AirCall call() {
      return alarm.watch().call();
    }

    Watched run(Duration time) {
      Instant end = pace.now().plus(time);
      while (pace.now().isBefore(end)) {
        step();
      }
      return this;
    }

    private void step() {
      pace.advanceTo(pace.now().plus(PERIOD));
      sampler.sampleOnce();
      Instant now = pace.now();
      double level = shop.timesCleanAir();
      double mean = quarter.plus(level);
      double minuteMean = minute.plus(level);
      boolean leave = minuteMean >= LeaveLevels.LOWEST;
      if (mean >= 3 || leave) {
        trueVentilate = trueVentilate.or(() -> Optional.of(now));
      }
      if (leave) {
        trueLeave = trueLeave.or(() -> Optional.of(now));
      }
      AirCall call = call();
      boolean up = call == AirCall.VENTILATE || call == AirCall.LEAVE;
      if (up && toldVentilate.isEmpty()) {
        toldVentilate = Optional.of(now);
        falseAlarms += mean < 2 && minuteMean < 2 ? 1 : 0;
      }
      if (call == AirCall.LEAVE && toldLeave.isEmpty()) {
        toldLeave = Optional.of(now);
        falseAlarms += minuteMean < 0.8 * LeaveLevels.LOWEST ? 1 : 0;
      }
    }

    /** What has gone before no longer counts. */
    void forget() {
      trueVentilate = Optional.empty();
      trueLeave = Optional.empty();
      toldVentilate = Optional.empty();
      toldLeave = Optional.empty();
    }

    private static String delay(Optional<Instant> truth, Optional<Instant> told) {
      if (truth.isEmpty()) {
        return told.isEmpty() ? "-" : "early";
      }
      return told.map(at -> Duration.between(truth.get(), at).toSeconds() + " s").orElse("MISSED");
    }

    int missed() {
      return (trueVentilate.isPresent() && toldVentilate.isEmpty() ? 1 : 0)
          + (trueLeave.isPresent() && toldLeave.isEmpty() ? 1 : 0);
    }

    void inTable(String name) {
      inTable(name, Duration.ZERO);
    }

    /**
     * A row of the table, and what is asked of it.
     *
     * @param blind how long the sensor says nothing at first
     */
    void inTable(String name, Duration blind) {
      TABLE.add(
          "%-34s %12s %14s %8d %8d"
              .formatted(
                  name,
                  delay(trueVentilate, toldVentilate),
                  delay(trueLeave, toldLeave),
                  missed(),
                  falseAlarms));
      assertEquals(0, missed(), name);
      assertEquals(0, falseAlarms, name);
      within(trueVentilate, toldVentilate, blind, name);
      within(trueLeave, toldLeave, blind, name);
    }

    private static void within(
        Optional<Instant> truth, Optional<Instant> told, Duration blind, String name) {
      if (truth.isPresent()) {
        Duration delay = Duration.between(truth.get(), told.orElseThrow());
        assertTrue(delay.minus(blind).compareTo(LONGEST_DELAY) <= 0, name + ": " + delay);
      }
    }
  }

  private static void scenario(String name, Duration length, Consumer<Watched> what) {
    Watched watched = Watched.settled();
    what.accept(watched);
    watched.run(length).inTable(name);
  }

  @Test
  void aLayupWithTheFanOff() {
    scenario(
        "layup, fan off",
        Duration.ofHours(3),
        watched -> {
          watched.shop.fan(false);
          watched.shop.startLayup(40);
        });
  }

  @Test
  void aLayupWithTheFanOn() {
    scenario("layup, fan on", Duration.ofHours(3), watched -> watched.shop.startLayup(40));
  }

  @Test
  void aLayupWithTheDoorOpened() {
    scenario(
        "layup, door opened after 20 min",
        Duration.ofHours(3),
        watched -> {
          watched.shop.startLayup(80);
          watched.run(Duration.ofMinutes(20));
          watched.shop.door(true);
        });
  }

  /** A tiny layup in a shut room that is left alone: a constant level must not be learned away. */
  @Test
  void twelveHoursAtAConstantLevelStillWarn() {
    Watched watched = Watched.settled();
    watched.shop.fan(false);
    for (int i = 0; i < 24; i++) {
      watched.shop.startLayup(1.6);
      watched.run(Duration.ofMinutes(30));
    }
    watched.inTable("12 h at a steady level");
    assertTrue(watched.shop.timesCleanAir() >= 3, "the truth is still high");
    assertTrue(watched.call() != AirCall.OK, "and it still warns");
  }

  @Test
  void aSaturatedSensorAsksToLeave() {
    scenario(
        "saturated",
        Duration.ofHours(2),
        watched -> {
          watched.shop.fan(false);
          watched.shop.startLayup(4_000_000);
        });
  }

  @Test
  void aWipeDownWithSolventIsSeenAndPasses() {
    Watched watched = Watched.settled();
    watched.shop.fan(true);
    watched.shop.wipeDown(12);
    watched.run(Duration.ofHours(1)).inTable("solvent wipe-down");
  }

  @Test
  void aSensorUnpluggedInAJobIsUnknownWithinAMinuteAndNeverOk() {
    Watched watched = Watched.settled();
    watched.alarm.jobStarted(Duration.ofHours(3), "Kim", true, true);
    watched.bench.i2c().unplug(SimulatedBench.VOC_ADDRESS);
    watched.run(Duration.ofSeconds(60));
    assertEquals(AirCall.UNKNOWN, watched.call());
    assertTrue(
        watched.alarm.watch().warning().orElseThrow().sound() != AirWarning.Sound.SILENT,
        "in a job unknown sounds like ventilate");
    watched.run(Duration.ofHours(1));
    assertEquals(AirCall.UNKNOWN, watched.call());
    TABLE.add("%-34s %12s %14s %8d %8d".formatted("unplugged in a job", "unknown", "-", 0, 0));
  }

  @Test
  void switchedOnInsideFumesItIsNeverShownAsOk() {
    Watched watched = new Watched(WatchSettings.Place.WORK_ROOM, Duration.ZERO);
    watched.shop.fan(false);
    watched.shop.startLayup(60);
    watched.pace.advanceBy(Duration.ofHours(1));
    watched.told.clear();
    for (int i = 0; i < 6 * 180; i++) {
      watched.run(PERIOD);
      assertTrue(watched.call() != AirCall.OK, "at minute " + i / 6);
    }
    assertEquals(AirCall.LEAVE, watched.call());
    // The first minute after power-on is not used; until then it is unknown and not ok.
    watched.inTable("switched on inside fumes", Duration.ofMinutes(1));
  }

  /** 40 ticks a day toward vapor for a week: 280 ticks are 1.25 times clean air. */
  @Test
  void aSlowDriftRaisesNothingWithinAWeek() {
    scenario("slow drift, one week", Duration.ofDays(7), watched -> watched.shop.drift(-40.0 / 24));
  }

  @Test
  void theHouseSideIsToldInFullWhileAJobIsOn() {
    Watched watched = new Watched(WatchSettings.Place.HOUSE_SIDE, Duration.ofHours(2));
    watched.run(Duration.ofMinutes(30));
    watched.alarm.jobStarted(Duration.ofHours(3), "Kim", true, true);
    watched.shop.fan(false);
    watched.shop.startLayup(80);
    watched.run(Duration.ofHours(2)).inTable("house side in a job");
    assertTrue(watched.toldLeave.isPresent());
  }

  /**
   * The room of a job is expected to be full of vapor: once a chip was seen in one, a usual aired
   * layup asks nobody to leave.
   */
  @Test
  void aUsualAiredJobAsksNobodyToLeaveTheRoom() {
    Watched watched = Watched.settled();
    watched.alarm.levels(new LeaveLevels(61, 8));
    watched.alarm.jobStarted(Duration.ofHours(3), "Kim", true, true);
    watched.shop.startLayup(80);
    watched.run(Duration.ofHours(3));
    assertTrue(watched.toldVentilate.isPresent());
    assertTrue(watched.toldLeave.isEmpty(), "a latched alarm on every layup gets unplugged");
    TABLE.add(
        "%-34s %12s %14s %8d %8d"
            .formatted(
                "aired job, fan and respirator",
                Watched.delay(watched.trueVentilate, watched.toldVentilate),
                "quiet",
                0,
                watched.falseAlarms));
  }

  /** A month of evenings without any layup: weather, heater and noise alone. */
  @Test
  void aMonthOfNothingRaisesNothing() {
    Watched watched = Watched.settled();
    watched.forget();
    watched.run(Duration.ofDays(30));
    assertEquals(0, watched.falseAlarms);
    assertTrue(watched.toldVentilate.isEmpty());
    TABLE.add(
        "%-34s %12s %14s %8d %8d"
            .formatted("30 days of nothing", "-", "-", 0, watched.falseAlarms));
  }

  /**
   * One layup predicted, then measured in the shop, whose physics knows no predictor: 45 m3, 9 air
   * changes an hour and 40 g of vapor by its making, half of it within 25 min. A detector that
   * tells the truth stands in for the measurement.
   */
  @Test
  void aPredictedLayupIsMeasuredAndCompared() {
    // Worked out by hand: 40 g by the rule for resin by hand at 42 % are 0.5951 kg.
    LayupAir predicted =
        LayupAir.predict(
            new VentilatedRoom(45, AirChanges.given(9), 1, 20),
            Layup.of(Layup.Batch.resin(0.5951, 42), Duration.ofMinutes(25), Duration.ofMinutes(85)),
            ExposureLimit.untilChosen());
    assertEquals(40, predicted.emittedGrams(), 0.01);
    Watched watched = Watched.settled();
    watched.shop.startLayup(40);
    Instant from = watched.pace.now();
    List<AirSample> samples = new ArrayList<>();
    while (watched.pace.now().isBefore(from.plus(Duration.ofHours(8)))) {
      watched.step();
      samples.add(new AirSample(watched.pace.now(), watched.shop.styrenePpm()));
    }
    ExposureHistory measured = ExposureHistory.of(samples, watched.pace.now());
    PredictionCheck quarter =
        new PredictionCheck(
            predicted.room().max15MinPpm(),
            measured.largestShortTermAverage().orElseThrow().value(),
            false);
    PredictionCheck shift =
        new PredictionCheck(
            predicted.room().twa8hPpm(), measured.eightHourAverage().value(), false);
    System.out.printf(
        "one layup: worst 15 min predicted %.1f, measured %.1f ppm; eight-hour average predicted"
            + " %.2f, measured %.2f ppm: %s%n",
        quarter.predictedPpm(),
        quarter.measuredPpm(),
        shift.predictedPpm(),
        shift.measuredPpm(),
        quarter.words());
    assertTrue(quarter.ratio() > 0.5 && quarter.ratio() < 2, quarter.toString());
    assertTrue(shift.ratio() > 0.5 && shift.ratio() < 2, shift.toString());
  }
}
