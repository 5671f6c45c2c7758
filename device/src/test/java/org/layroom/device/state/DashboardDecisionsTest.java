package org.layroom.device.state;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.alarm.LocalAlarm;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.CorrectedSensor;
import org.layroom.device.sampling.CurrentCleanAir;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.sampling.Sample;
import org.layroom.device.sampling.Sampler;
import org.layroom.device.sampling.SamplingRound;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.WatchSettings;

/** Which decision a device goes by: the newest, over restarts of its own and with a wrong clock. */
class DashboardDecisionsTest {
  private static final Instant START = Instant.parse("2026-03-14T19:00:00Z");
  private static final Duration TWO_HOURS = Duration.ofHours(2);
  private static final LocalDate DAY = LocalDate.of(2026, 3, 14);

  @TempDir Path folder;

  private final SteppedPace pace = new SteppedPace(START);
  private final List<AlarmState> told = new ArrayList<>();
  private LocalAlarm alarm = alarm();
  private CurrentOffsets offsets = new CurrentOffsets(Map.of());
  private Optional<DashboardDecisions> opened = Optional.empty();

  private LocalAlarm alarm() {
    return LocalAlarm.unwired(
        pace,
        WatchSettings.workRoom(VaporSensor.Chip.with(CleanAirReading.of(30_000, START))),
        told::add);
  }

  private DashboardDecisions decisions() {
    offsets = new CurrentOffsets(Map.of());
    return new DashboardDecisions(folder, new CurrentCleanAir(Optional.empty()), offsets, alarm);
  }

  @BeforeEach
  void start() {
    opened = Optional.of(decisions());
  }

  private void take(DeviceSettings decided) {
    opened.orElseThrow().take(decided);
  }

  @AfterEach
  void close() {
    alarm.close();
    pace.close();
  }

  private void restart() {
    alarm.close();
    told.clear();
    alarm = alarm();
    DashboardDecisions again = decisions();
    again.recall();
    opened = Optional.of(again);
  }

  private static DeviceSettings decided(Instant when, String who, Optional<Instant> job) {
    return new DeviceSettings(
        when,
        who,
        DeviceSettings.Mode.CHIP,
        20,
        40,
        0.45,
        false,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        job.map(from -> new DeviceSettings.Job(from, from.plus(TWO_HOURS), who, true, true)),
        List.of(),
        Optional.empty());
  }

  private static DeviceSettings doubting(Instant when, Optional<String> doubt) {
    return new DeviceSettings(
        when,
        "",
        DeviceSettings.Mode.CHIP,
        20,
        40,
        0.45,
        false,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        List.of(),
        doubt);
  }

  @Test
  void aSensorThatFailedItsBumpTestIsNotBelievedHereEitherNorAfterARestart() {
    Optional<String> failed = Optional.of("The sensor failed its bump test.");
    opened.orElseThrow().take(doubting(START.plusSeconds(10), failed));
    assertEquals(failed, alarm.watch().settings().doubt());
    restart();
    assertEquals(failed, alarm.watch().settings().doubt());
    opened.orElseThrow().take(doubting(START.plusSeconds(20), Optional.empty()));
    assertEquals(Optional.empty(), alarm.watch().settings().doubt());
  }

  private static DeviceSettings decided(Instant when, SensorOffset... offsets) {
    return new DeviceSettings(
        when,
        "Kim",
        DeviceSettings.Mode.CHIP,
        20,
        40,
        0.45,
        false,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        List.of(offsets),
        Optional.empty());
  }

  /** What a mold thermometer that gives 18 degC reads, corrected. */
  private double mold() {
    Sensor part =
        CorrectedSensor.of(
            new Sensor() {
              @Override
              public String name() {
                return "mold";
              }

              @Override
              public List<SeriesName> series() {
                return List.of(new SeriesName(Series.MOLD_TEMPERATURE, Series.CELSIUS));
              }

              @Override
              public Outcome read(SamplingRound round) {
                return new Outcome(
                    List.of(Reading.of(Series.MOLD_TEMPERATURE, Series.CELSIUS, 18)),
                    Optional.empty());
              }
            },
            offsets,
            Optional.empty());
    List<Sample> samples = new ArrayList<>();
    new Sampler(pace, () -> List.of(part), samples::add).sampleOnce();
    return samples.get(0).readings().get(0).value().orElseThrow();
  }

  @Test
  void aSensorIsCorrectedByTheNewestDecisionOverARestartUntilThatIsTakenBack() {
    assertEquals(18, mold(), 1e-9);
    take(decided(START, new SensorOffset(Series.MOLD_TEMPERATURE, 0.5, DAY, "Kim")));
    assertEquals(18.5, mold(), 1e-9);
    restart();
    assertEquals(18.5, mold(), 1e-9);
    take(decided(START.minusSeconds(1), new SensorOffset(Series.MOLD_TEMPERATURE, 3, DAY, "Lee")));
    assertEquals(18.5, mold(), 1e-9, "an older decision, told late");
    take(decided(START.plusSeconds(1)));
    assertEquals(18, mold(), 1e-9);
    restart();
    assertEquals(18, mold(), 1e-9);
  }

  private AlarmState.Uses uses() {
    return told.get(told.size() - 1).uses();
  }

  @Test
  void theNewestDecisionWinsInWhateverOrderTheyComeAndOverARestart() {
    take(decided(START.plusSeconds(20), "Kim", Optional.empty()));
    take(decided(START.plusSeconds(10), "Lee", Optional.of(START)));
    assertEquals(Optional.of(START.plusSeconds(20)), uses().settingsDecided());
    assertEquals("Kim", uses().settingsBy());
    assertFalse(alarm.watch().inJob());
    restart();
    assertEquals(Optional.of(START.plusSeconds(20)), uses().settingsDecided());
    assertEquals("Kim", uses().settingsBy());
    take(decided(START.plusSeconds(10), "Lee", Optional.empty()));
    assertEquals("Kim", uses().settingsBy());
    take(decided(START.plusSeconds(21), "Lee", Optional.empty()));
    assertEquals("Lee", uses().settingsBy());
  }

  @Test
  void aJobGoesOnOverARestartOfTheDeviceAndEndsWhenItWasPlanned() {
    take(decided(START, "Kim", Optional.of(START)));
    pace.advanceBy(Duration.ofHours(1));
    restart();
    assertTrue(alarm.watch().inJob());
    pace.advanceBy(Duration.ofHours(1).plusMinutes(1));
    assertFalse(alarm.watch().inJob());
  }

  @Test
  void byAClockThatIsADayLateAJobLastsNoLongerThanItWasPlanned() {
    Instant upstairs = START.plus(Duration.ofDays(1));
    take(decided(upstairs, "Kim", Optional.of(upstairs)));
    assertTrue(alarm.watch().inJob());
    pace.advanceBy(TWO_HOURS.plusMinutes(1));
    assertFalse(alarm.watch().inJob());
  }

  @Test
  void byAClockThatIsADayEarlyAJobIsTakenForOverAndTheFullWarningsHold() {
    Instant upstairs = START.minus(Duration.ofDays(1));
    take(decided(upstairs, "Kim", Optional.of(upstairs)));
    assertFalse(alarm.watch().inJob());
  }

  @Test
  void decisionsThatCannotBeReadAreLeftAndTheNextOneCounts() throws IOException {
    Path kept = folder.resolve("settings.json");
    Files.writeString(kept, "{\"decided\":");
    restart();
    assertEquals("{\"decided\":", Files.readString(kept));
    take(decided(START, "Kim", Optional.empty()));
    restart();
    assertEquals("Kim", uses().settingsBy());
  }
}
