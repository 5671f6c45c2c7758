package org.layroom.dashboard.warning;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.IntFunction;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.layroom.dashboard.decision.AirSettings;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.alarm.LocalAlarm;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.WatchSettings;

/**
 * The same samples mean the same air to the device's own alarm, to the dashboard, and to a
 * dashboard that was started again on what it has stored. Thresholds are this project's own choice;
 * the PID's are multiples of 29 CFR 1910.1000 Table Z-2 (100 ppm over eight hours, ceiling 200
 * ppm).
 */
class BothFloorsTest {
  private static final Instant START = Instant.parse("2026-03-14T19:00:00Z");
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Duration EVERY = Duration.ofSeconds(10);
  private static final int HALF_AN_HOUR = 180;
  private static final String AT_END = "at the end of its range: at least this much vapor";

  @TempDir Path folder;
  private final SteppedPace pace = new SteppedPace(START);
  private Store store;

  @BeforeEach
  void open() {
    store = StoreFolder.open(folder);
  }

  @AfterEach
  void close() {
    store.close();
    pace.close();
  }

  /**
   * A sensor, and what it shows.
   *
   * @param sample the readings of the sample of this number
   * @param call what the air calls for after half an hour of them
   */
  private record Shown(String what, Mode mode, AirCall call, IntFunction<List<Reading>> sample) {
    @Override
    public String toString() {
      return what + ": " + call.name().toLowerCase(Locale.ROOT);
    }
  }

  static Stream<Shown> everyKindOfSample() {
    return Stream.of(
        new Shown("a PID in clean air", Mode.PID, AirCall.OK, i -> pid(1 + 0.01 * (i % 5))),
        new Shown("a PID in vapor", Mode.PID, AirCall.LEAVE, i -> pid(900 + 0.1 * (i % 5))),
        new Shown("a saturated PID", Mode.PID, AirCall.LEAVE, i -> saturated(Quality.good())),
        new Shown(
            "a saturated PID that its device doubts",
            Mode.PID,
            AirCall.LEAVE,
            i -> saturated(Quality.suspect("stuck: the same value for 10 min"))),
        new Shown("a PID that never moves", Mode.PID, AirCall.UNKNOWN, i -> pid(1)),
        new Shown(
            "a PID whose lamp is dead",
            Mode.PID,
            AirCall.UNKNOWN,
            i ->
                List.of(
                    Reading.missing(Series.PID_VOLTAGE, Series.VOLT, "lamp"),
                    Reading.missing(Series.ISOBUTYLENE, Series.RATIO, "lamp"))),
        new Shown(
            "a chip in the mode of a PID",
            Mode.PID,
            AirCall.UNKNOWN,
            i -> chip(30_000 + i % 3, Quality.good())),
        new Shown(
            "a chip in clean air",
            Mode.CHIP,
            AirCall.OK,
            i -> chip(30_000 + i % 3, Quality.good())),
        new Shown("a chip at its end", Mode.CHIP, AirCall.LEAVE, i -> chip(0, Quality.good())),
        new Shown(
            "a chip at its end that its device doubts",
            Mode.CHIP,
            AirCall.LEAVE,
            i -> chip(0, Quality.suspect("stuck"))),
        new Shown(
            "a chip that settles",
            Mode.CHIP,
            AirCall.UNKNOWN,
            i -> chip(30_000 + i % 3, Quality.suspect("settling"))),
        new Shown(
            "a chip that does not answer",
            Mode.CHIP,
            AirCall.UNKNOWN,
            i -> List.of(Reading.missing(Series.VOC_RAW, Series.NO_UNIT, "no answer"))),
        new Shown(
            "a chip without an air sensor",
            Mode.CHIP,
            AirCall.UNKNOWN,
            i -> List.of(Reading.of(Series.VOC_RAW, Series.NO_UNIT, 30_000 + i % 3))));
  }

  private static List<Reading> pid(double ppm) {
    return List.of(
        Reading.of(Series.PID_VOLTAGE, Series.VOLT, 0.05 + 0.025 * ppm),
        Reading.of(Series.ISOBUTYLENE, Series.RATIO, ppm / 1e6),
        Reading.of(Series.STYRENE_ESTIMATE, Series.RATIO, 0.45 * ppm / 1e6));
  }

  private static List<Reading> saturated(Quality quality) {
    return List.of(
        Reading.of(Series.PID_VOLTAGE, Series.VOLT, 2.5, Quality.suspect(AT_END)),
        Reading.of(Series.ISOBUTYLENE, Series.RATIO, 98e-6, quality),
        Reading.of(Series.STYRENE_ESTIMATE, Series.RATIO, 44.1e-6, quality));
  }

  private static List<Reading> chip(double ticks, Quality quality) {
    return List.of(
        Reading.of(Series.TEMPERATURE, Series.CELSIUS, 20),
        Reading.of(Series.HUMIDITY, Series.RELATIVE_HUMIDITY, 50),
        Reading.of(Series.VOC_RAW, Series.NO_UNIT, ticks, quality));
  }

  @ParameterizedTest
  @MethodSource("everyKindOfSample")
  void oneSampleMeansTheSameOnBothFloors(Shown shown) {
    ExposureLimit limit = ExposureLimit.byId("osha").orElseThrow();
    CleanAirReading clean = CleanAirReading.of(30_000, START);
    VaporSensor sensor =
        shown.mode() == Mode.PID
            ? new VaporSensor.Pid(limit, VaporSensor.Pid.USUAL_FACTOR)
            : VaporSensor.Chip.with(clean);
    WatchRules rules =
        new WatchRules(
            AirSettings.FIRST.withMode(shown.mode()).withLimit(limit),
            false,
            false,
            Duration.ofMinutes(2));
    WatchStore kept = new WatchStore(store);
    kept.keep(BENCH, clean, "Kim", "clean-air-1");
    DeviceWatch upstairs = new DeviceWatch(BENCH, kept, rules, pace.now(), pace.now());
    List<StoreEntry> stored = new ArrayList<>();
    try (LocalAlarm downstairs =
        LocalAlarm.unwired(pace, WatchSettings.workRoom(sensor), state -> {})) {
      for (int i = 0; i < HALF_AN_HOUR; i++) {
        pace.advanceBy(EVERY);
        List<Reading> readings = shown.sample().apply(i);
        downstairs.accept(new Sample(pace.uptime(), pace.now(), true, readings, List.of()));
        StoreEntry.Sample sample =
            new StoreEntry.Sample(
                BENCH,
                Optional.of(new OutboxPosition("box", i + 1)),
                SampleTimes.asSaid(pace.now(), pace.now()),
                readings,
                List.of());
        stored.add(sample);
        upstairs.take(sample, rules, pace.now());
        upstairs.tick(rules, pace.now());
      }
      assertEquals(
          shown.call(), downstairs.watch().call(), () -> "device: " + downstairs.watch().warning());
    }
    assertEquals(
        shown.call(), upstairs.watch().call(), () -> "dashboard: " + upstairs.watch().warning());
    store.append(stored);
    DeviceWatch again =
        new DeviceWatch(BENCH, kept, rules, pace.now().plusMillis(1), pace.now().plusMillis(1));
    assertEquals(
        shown.call(), again.watch().call(), () -> "started again: " + again.watch().warning());
  }
}
