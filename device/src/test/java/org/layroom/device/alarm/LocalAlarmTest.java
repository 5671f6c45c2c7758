package org.layroom.device.alarm;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import org.junit.jupiter.api.Test;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.LeaveLevels;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.WatchSettings;

/** Lamps, buzzer and button, with nothing connected but wires that remember. */
class LocalAlarmTest {
  private static final Instant START = Instant.parse("2026-03-14T19:00:00Z");
  private static final int MIX_LAMP = 17;
  private static final int WAIT_LAMP = 18;
  private static final int VENTILATE_LAMP = 27;
  private static final int LEAVE_LAMP = 22;
  private static final int BUZZER = 23;
  private static final int BUTTON = 24;

  private final SteppedPace pace = new SteppedPace(START);
  private final Wires wires = new Wires();
  private final List<AlarmState> told = new ArrayList<>();
  private int count;

  /** Lines that remember what they were set to. */
  private static final class Wires implements Gpio {
    private final Map<Integer, Boolean> on = new HashMap<>();
    private boolean pressed;
    private boolean broken;

    @Override
    public Output output(int line) {
      on.put(line, false);
      return value -> {
        if (broken && line == LEAVE_LAMP) {
          throw new BusFault("no such line");
        }
        on.put(line, value);
      };
    }

    @Override
    public Input input(int line) {
      return () -> pressed;
    }

    boolean lit(int line) {
      return on.getOrDefault(line, false);
    }

    @Override
    public void close() {
      on.clear();
    }
  }

  private static Properties settings() {
    Properties properties = new Properties();
    properties.setProperty("alarm.mix-lamp", "17");
    properties.setProperty("alarm.wait-lamp", "18");
    properties.setProperty("alarm.ventilate-lamp", "27");
    properties.setProperty("alarm.leave-lamp", "22");
    properties.setProperty("alarm.buzzer", "23");
    properties.setProperty("alarm.mute-button", String.valueOf(BUTTON));
    return properties;
  }

  private LocalAlarm alarm() throws BusFault {
    return LocalAlarm.wired(
        pace,
        wires,
        AlarmLines.of(settings()).orElseThrow(),
        WatchSettings.workRoom(VaporSensor.Chip.with(CleanAirReading.of(30_000, START))),
        told::add);
  }

  /** One sample every ten seconds, with a few ticks of noise. */
  private void run(LocalAlarm alarm, int seconds, double ticks) {
    for (int second = 0; second < seconds; second += 10) {
      pace.advanceBy(Duration.ofSeconds(10));
      alarm.accept(sampled(ticks + count++ % 3));
    }
  }

  private Sample sampled(double ticks) {
    return new Sample(
        pace.uptime(),
        pace.now(),
        pace.wallClockSet(),
        List.of(
            Reading.of(Series.TEMPERATURE, Series.CELSIUS, 20),
            Reading.of(Series.HUMIDITY, Series.RELATIVE_HUMIDITY, 50),
            Reading.of(Series.MOLD_TEMPERATURE, Series.CELSIUS, 20),
            Reading.of(Series.VOC_RAW, Series.NO_UNIT, ticks)),
        List.of());
  }

  /** How often something was on, in the next so many beats. */
  private int beatsOn(int line, int beats) {
    int on = 0;
    for (int beat = 0; beat < beats; beat++) {
      pace.advanceBy(LocalAlarm.BEAT);
      on += wires.lit(line) ? 1 : 0;
    }
    return on;
  }

  @Test
  void atTheStartEachLampAndTheBuzzerAreTriedOnce() throws BusFault {
    try (LocalAlarm alarm = alarm()) {
      List<Integer> seen = new ArrayList<>();
      for (int line : List.of(MIX_LAMP, WAIT_LAMP, VENTILATE_LAMP, LEAVE_LAMP, BUZZER)) {
        assertTrue(wires.lit(line), "line " + line);
        seen.add(line);
        pace.advanceBy(LampSignal.TEST_STEP);
      }
      assertEquals(5, seen.size());
      assertFalse(wires.lit(BUZZER));
      assertEquals(AirCall.UNKNOWN, alarm.watch().call());
    }
  }

  @Test
  void unknownFlashesSlowlyAndIsNeverGreen() throws BusFault {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 60, 30_000);
      assertFalse(wires.lit(MIX_LAMP));
      assertEquals(16, beatsOn(VENTILATE_LAMP, 32));
      assertEquals(0, beatsOn(MIX_LAMP, 32));
      assertEquals(0, beatsOn(BUZZER, 32));
    }
  }

  @Test
  void cleanAirInAWarmDryRoomLightsTheMixLampUntilTheSensorFallsSilent() throws BusFault {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      assertTrue(wires.lit(MIX_LAMP));
      pace.advanceBy(Duration.ofSeconds(31));
      assertFalse(wires.lit(MIX_LAMP));
      assertEquals(AirCall.UNKNOWN, alarm.watch().call());
    }
  }

  @Test
  void leaveFlashesFastAndSoundsUntilAcknowledged() throws BusFault {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      run(alarm, 80, 26_000);
      assertEquals(AirCall.LEAVE, alarm.watch().call());
      assertEquals(20, beatsOn(LEAVE_LAMP, 40));
      assertEquals(20, beatsOn(BUZZER, 40));
      AlarmState standing = told.get(told.size() - 1);
      alarm.acknowledged(new Acknowledgment("another-1", "Kim", START));
      assertEquals(20, beatsOn(BUZZER, 40));
      alarm.acknowledged(new Acknowledgment(standing.id(), "Kim", START));
      assertEquals(0, beatsOn(BUZZER, 40));
      assertEquals(20, beatsOn(LEAVE_LAMP, 40));
      assertTrue(told.get(told.size() - 1).acknowledged().isPresent());
    }
  }

  @Test
  void theButtonSilencesLeaveForTenMinutesAndNoLonger() throws BusFault {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      run(alarm, 80, 26_000);
      press();
      run(alarm, 60, 26_000);
      assertEquals(0, beatsOn(BUZZER, 8));
      press();
      run(alarm, 8 * 60, 26_000);
      assertEquals(0, beatsOn(BUZZER, 8));
      run(alarm, 60, 26_000);
      assertTrue(beatsOn(BUZZER, 8) > 0);
    }
  }

  private void press() {
    wires.pressed = true;
    pace.advanceBy(LocalAlarm.BEAT);
    wires.pressed = false;
    pace.advanceBy(LocalAlarm.BEAT);
  }

  @Test
  void inAQuietJobAiringSoundsOnceAndTheLampStays() throws BusFault {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      alarm.levels(new LeaveLevels(61, 8));
      alarm.jobStarted(Duration.ofHours(4), "Kim", true, true);
      run(alarm, 20 * 60, 26_000);
      assertEquals(AirCall.VENTILATE, alarm.watch().call());
      assertEquals(0, beatsOn(BUZZER, 80));
      assertEquals(20, beatsOn(VENTILATE_LAMP, 20));
      alarm.jobEnded();
      run(alarm, 80, 26_000);
      assertEquals(AirCall.LEAVE, alarm.watch().call());
    }
  }

  @Test
  void theListenerHearsEachWarningOnce() throws BusFault {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      run(alarm, 20 * 60, 26_000);
      assertEquals(
          List.of("unknown", "ok", "ventilate", "leave"),
          told.stream().map(AlarmState::state).toList());
    }
  }

  @Test
  void aWallClockThatIsSetMeanwhileChangesNoAverage() throws BusFault {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      pace.setWallClock(START.minus(Duration.ofDays(400)));
      run(alarm, 60, 30_000);
      assertEquals(AirCall.OK, alarm.watch().call());
      run(alarm, 120, 26_000);
      assertEquals(AirCall.LEAVE, alarm.watch().call());
    }
  }

  @Test
  void aBrokenLampDoesNotSilenceTheBuzzer() throws BusFault {
    wires.broken = true;
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      run(alarm, 80, 26_000);
      assertTrue(beatsOn(BUZZER, 8) > 0);
    }
  }

  @Test
  void closingSwitchesEverythingOff() throws BusFault {
    LocalAlarm alarm = alarm();
    run(alarm, 16 * 60, 30_000);
    assertTrue(wires.lit(MIX_LAMP));
    alarm.close();
    assertFalse(wires.lit(MIX_LAMP));
  }

  @Test
  void linesAreRefusedWithWhatToWrite() {
    assertTrue(AlarmLines.of(new Properties()).isEmpty());
    for (String[] wrong :
        List.of(
            new String[] {"28", "0 to 27"},
            new String[] {"x", "0 to 27"},
            new String[] {"2", "I2C"},
            new String[] {"27", "already used"})) {
      Properties properties = settings();
      properties.setProperty("alarm.buzzer", wrong[0]);
      String message =
          String.valueOf(
              assertThrows(IllegalArgumentException.class, () -> AlarmLines.of(properties))
                  .getMessage());
      assertTrue(message.contains(wrong[1]) && message.contains("alarm.buzzer"), message);
    }
  }

  @Test
  void whatTheBrokerIsToldCanBeReadAgain() throws BusFault, MalformedMessage {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      run(alarm, 80, 26_000);
      alarm.acknowledged(new Acknowledgment(told.get(told.size() - 1).id(), "Kim", START));
      for (AlarmState state : told) {
        assertEquals(state, AlarmState.read(state.write()));
      }
      AlarmState last = told.get(told.size() - 1);
      assertEquals("Kim", last.acknowledged().orElseThrow().who());
      assertFalse(last.why().isEmpty());
      Acknowledgment seen = new Acknowledgment("x-1", "Kim", START);
      assertEquals(seen, Acknowledgment.read(seen.write()));
      assertThrows(MalformedMessage.class, () -> Acknowledgment.read("{}".getBytes(UTF_8)));
      assertThrows(MalformedMessage.class, () -> AlarmState.read("{}".getBytes(UTF_8)));
    }
  }

  @Test
  void unknownIsNotSaidToBeSinceBeforeTheDeviceWasStarted() throws BusFault {
    Instant stopped = Instant.parse("2026-01-01T00:00:00Z");
    pace.setWallClock(stopped);
    pace.setWallClockSet(false);
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 60, 30_000);
      Instant real = START.plusSeconds(60);
      pace.setWallClock(real);
      pace.setWallClockSet(true);
      run(alarm, 60, 30_000);
      AlarmState last = told.get(told.size() - 1);
      assertEquals("unknown", last.state());
      assertEquals(START, last.since().orElseThrow(), "the start, by the clock that is right");
    }
  }

  private static Sample detector(SteppedPace pace, double ppm, boolean atEnd) {
    return new Sample(
        pace.uptime(),
        pace.now(),
        pace.wallClockSet(),
        List.of(
            Reading.of(
                Series.PID_VOLTAGE,
                Series.VOLT,
                0.05 + 0.025 * ppm,
                atEnd ? Quality.suspect(AirEvents.AT_END) : Quality.good()),
            Reading.of(Series.ISOBUTYLENE, Series.RATIO, ppm / 1e6)),
        List.of());
  }

  /**
   * 29 CFR 1910.1000 Table Z-2: 100 ppm over eight hours, ceiling 200 ppm. 900 ppm isobutylene are
   * 405 ppm as styrene by the published factor 0.45.
   */
  @Test
  void withADetectorTheRoomIsWarnedByItsPpmAndByItsSilence() throws BusFault {
    WatchSettings settings =
        WatchSettings.workRoom(new VaporSensor.Pid(ExposureLimit.byId("osha").orElseThrow(), 0.45));
    try (LocalAlarm alarm =
        LocalAlarm.wired(
            pace, wires, AlarmLines.of(settings()).orElseThrow(), settings, told::add)) {
      for (int i = 0; i < 180; i++) {
        pace.advanceBy(Duration.ofSeconds(10));
        alarm.accept(detector(pace, 1 + 0.01 * (i % 5), false));
      }
      assertEquals(AirCall.OK, alarm.watch().call(), () -> "" + alarm.watch().warning());
      for (int i = 0; i < 120; i++) {
        pace.advanceBy(Duration.ofSeconds(10));
        alarm.accept(detector(pace, 900 + 0.01 * (i % 5), i > 60));
      }
      assertEquals(AirCall.LEAVE, alarm.watch().call());
      assertTrue(beatsOn(LEAVE_LAMP, 8) > 0);
    }
  }

  @Test
  void aChipsTicksSayNothingToADetectorsWatch() throws BusFault {
    WatchSettings settings =
        WatchSettings.workRoom(new VaporSensor.Pid(ExposureLimit.byId("osha").orElseThrow(), 0.45));
    try (LocalAlarm alarm = LocalAlarm.unwired(pace, settings, told::add)) {
      run(alarm, 600, 30_000);
      assertEquals(AirCall.UNKNOWN, alarm.watch().call());
    }
  }
}
