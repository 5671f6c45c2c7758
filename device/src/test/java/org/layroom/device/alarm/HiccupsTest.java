package org.layroom.device.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.layroom.device.chip.Ds18b20;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.chip.Sht4x;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.AirSensor;
import org.layroom.device.sampling.Sampler;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.sampling.ThermometerSensor;
import org.layroom.device.sampling.ValueOrigin;
import org.layroom.device.sampling.VocSensor;
import org.layroom.device.simulated.RoomTruth;
import org.layroom.device.simulated.SimulatedBench;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.WatchSettings;

/**
 * A read that goes wrong now and then, as on a long wire beside a motor: neither the alarm nor the
 * lamp of ready to mix may go blind by it. How good is this project's own aim: with one read in 100
 * bad the lamp is lit 95 % of a good day, with one in 20 bad leave comes 10 s later at most.
 */
class HiccupsTest {
  private static final Instant START = Instant.parse("2026-03-16T08:00:00Z");
  private static final Duration PERIOD = Duration.ofSeconds(10);
  private static final double CLEAN_TICKS = 30_000;

  /** 870 ticks per doubling (SGP40 data sheet, ethanol): 12 times clean air. */
  private static final double TWELVE_TIMES = CLEAN_TICKS - 3119;

  /** A warm, dry room whose chips are read over wires that spoil one answer in so many. */
  private static final class Room {
    private final SteppedPace pace = new SteppedPace(START);
    private final SplittableRandom noise = new SplittableRandom(5);
    private double ticks = CLEAN_TICKS;
    private final SimulatedBench bench = new SimulatedBench(this::truth, pace::uptime);
    private final LocalAlarm alarm =
        LocalAlarm.unwired(
            pace,
            WatchSettings.workRoom(VaporSensor.Chip.with(CleanAirReading.of(CLEAN_TICKS, START))),
            told -> {});
    private final List<Sensor> sensors =
        List.of(
            AirSensor.sht4x(
                new Sht4x(bench.i2c().device(SimulatedBench.AIR_ADDRESS), pace), ValueOrigin.LIVE),
            ThermometerSensor.mold(
                new Ds18b20(bench.oneWire(), SimulatedBench.MOLD_ID), ValueOrigin.LIVE),
            VocSensor.poweredFor(
                Duration.ofHours(2),
                new Sgp40(bench.i2c().device(SimulatedBench.VOC_ADDRESS), pace),
                ValueOrigin.LIVE));
    private final Sampler sampler = new Sampler(pace, () -> sensors, alarm);
    private int samples;

    Room(int oneIn, long seed) {
      run(Duration.ofMinutes(20));
      assertEquals(AirCall.OK, alarm.watch().call());
      assertTrue(alarm.signal().mixLamp(), "ready to mix before anything goes wrong");
      bench.i2c().badReads(oneIn, seed);
    }

    private RoomTruth truth() {
      return new RoomTruth(
          22 + noise.nextDouble(0.1),
          50 + noise.nextDouble(1),
          21 + noise.nextDouble(0.1),
          20,
          101_325,
          ticks + noise.nextInt(9) - 4);
    }

    private void sample() {
      pace.advanceTo(START.plus(PERIOD.multipliedBy(++samples)));
      sampler.sampleOnce();
    }

    void run(Duration time) {
      for (long i = time.dividedBy(PERIOD); i > 0; i--) {
        sample();
      }
    }

    /** In which share of the samples of a time the lamp of ready to mix is lit. */
    double lit(Duration time) {
      long all = time.dividedBy(PERIOD);
      int lit = 0;
      for (long i = 0; i < all; i++) {
        sample();
        lit += alarm.signal().mixLamp() ? 1 : 0;
      }
      return (double) lit / all;
    }

    /** How many samples until the alarm says leave. */
    int samplesToLeave() {
      run(Duration.ofMinutes(10));
      ticks = TWELVE_TIMES;
      int count = 0;
      while (alarm.watch().call() != AirCall.LEAVE) {
        sample();
        assertTrue(++count < 100, "it never says leave");
      }
      return count;
    }
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3})
  void withOneReadInAHundredBadReadyToMixIsLitNearlyAllOfAGoodDay(long seed) {
    assertEquals(1, new Room(0, seed).lit(Duration.ofDays(1)), "without bad reads");
    double share = new Room(100, seed).lit(Duration.ofDays(1));
    System.out.printf("one read in 100 bad, seed %d: ready lamp lit %.2f %%%n", seed, 100 * share);
    assertTrue(share >= 0.95, "lit " + share);
  }

  @Test
  void withOneReadInTwentyBadLeaveComesTenSecondsLaterAtMost() {
    int without = new Room(0, 0).samplesToLeave();
    int worst = 0;
    for (long seed = 1; seed <= 50; seed++) {
      worst = Math.max(worst, new Room(20, seed).samplesToLeave());
    }
    System.out.printf(
        "leave after %d samples without bad reads, after %d at worst of 50 evenings with one in 20"
            + " bad%n",
        without, worst);
    assertTrue(worst - without <= 1, worst + " samples instead of " + without);
  }

  @Test
  void warmUpBeginsAnewOnlyAfterRealSilence() {
    Room room = new Room(0, 0);
    room.bench.i2c().unplug(SimulatedBench.VOC_ADDRESS);
    room.run(Duration.ofSeconds(20));
    room.bench.i2c().plugIn(SimulatedBench.VOC_ADDRESS);
    room.run(Duration.ofSeconds(20));
    assertEquals(AirCall.OK, room.alarm.watch().call(), "two samples are a hiccup");
    room.bench.i2c().unplug(SimulatedBench.VOC_ADDRESS);
    room.run(Duration.ofMinutes(2));
    room.bench.i2c().plugIn(SimulatedBench.VOC_ADDRESS);
    room.run(Duration.ofMinutes(30));
    assertEquals(AirCall.UNKNOWN, room.alarm.watch().call(), "it may have been without power");
    room.run(Duration.ofMinutes(32));
    assertEquals(AirCall.OK, room.alarm.watch().call());
  }
}
