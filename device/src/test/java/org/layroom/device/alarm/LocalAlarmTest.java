package org.layroom.device.alarm;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Properties;
import org.junit.jupiter.api.Test;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
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

  private LocalAlarm alarm() {
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
  void atTheStartEachLampAndTheBuzzerAreTriedOnce() {
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
  void unknownFlashesSlowlyAndIsNeverGreen() {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 60, 30_000);
      assertFalse(wires.lit(MIX_LAMP));
      assertEquals(16, beatsOn(VENTILATE_LAMP, 32));
      assertEquals(0, beatsOn(MIX_LAMP, 32));
      assertEquals(0, beatsOn(BUZZER, 32));
    }
  }

  @Test
  void cleanAirInAWarmDryRoomLightsTheMixLampUntilTheSensorFallsSilent() {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      assertTrue(wires.lit(MIX_LAMP));
      pace.advanceBy(Duration.ofSeconds(31));
      assertFalse(wires.lit(MIX_LAMP));
      assertEquals(AirCall.UNKNOWN, alarm.watch().call());
    }
  }

  @Test
  void leaveFlashesFastAndSoundsUntilAcknowledged() {
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
  void theButtonSilencesLeaveForTenMinutesAndNoLonger() {
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
    wires.down(true);
    pace.advanceBy(LocalAlarm.BEAT);
    wires.down(false);
    pace.advanceBy(LocalAlarm.BEAT);
  }

  @Test
  void inAQuietJobAiringSoundsOnceAndTheLampStays() {
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
  void theListenerHearsEachWarningOnce() {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      run(alarm, 20 * 60, 26_000);
      assertEquals(
          List.of("unknown", "ok", "ventilate", "leave"),
          told.stream().map(AlarmState::state).toList());
    }
  }

  @Test
  void aWallClockThatIsSetMeanwhileChangesNoAverage() {
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
  void aPressBetweenTwoLooksAtTheButtonCounts() {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      run(alarm, 80, 26_000);
      wires.down(true);
      wires.down(false);
      run(alarm, 20, 26_000);
      assertEquals(0, beatsOn(BUZZER, 8));
      assertTrue(beatsOn(LEAVE_LAMP, 8) > 0, "the lamp stays");
    }
  }

  @Test
  void theButtonHeldDownTestsLampsBuzzerAndFan() {
    Properties properties = settings();
    properties.setProperty("fan.relay", "25");
    WatchSettings watched =
        WatchSettings.workRoom(VaporSensor.Chip.with(CleanAirReading.of(30_000, START)));
    try (LocalAlarm alarm =
        LocalAlarm.wired(
            pace, wires, AlarmLines.of(properties).orElseThrow(), watched, told::add)) {
      run(alarm, 16 * 60, 30_000);
      assertFalse(wires.lit(25));
      wires.down(true);
      pace.advanceBy(MuteButton.LONG.plus(LocalAlarm.BEAT));
      List<Integer> seen = new ArrayList<>();
      for (int beat = 0; beat < 12; beat++) {
        for (int line : List.of(MIX_LAMP, WAIT_LAMP, VENTILATE_LAMP, LEAVE_LAMP, BUZZER)) {
          if (wires.lit(line) && !seen.contains(line)) {
            seen.add(line);
          }
        }
        assertTrue(wires.lit(25), "the fan");
        pace.advanceBy(LocalAlarm.BEAT);
      }
      assertEquals(List.of(MIX_LAMP, WAIT_LAMP, VENTILATE_LAMP, LEAVE_LAMP, BUZZER), seen);
      wires.down(false);
      run(alarm, 20, 30_000);
      assertFalse(wires.lit(25), "for a moment only");
    }
  }

  @Test
  void aTestCoversNoCallToLeave() {
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      run(alarm, 80, 26_000);
      wires.down(true);
      run(alarm, 10, 26_000);
      assertEquals(0, beatsOn(MIX_LAMP, 20) + beatsOn(WAIT_LAMP, 20));
      assertTrue(beatsOn(LEAVE_LAMP, 8) > 0);
    }
  }

  @Test
  void aLineThatAnotherProgramHasIsAFaultOfItsPartUntilItIsFree() {
    wires.taken(LEAVE_LAMP, true);
    wires.taken(BUTTON, true);
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      assertEquals(
          List.of("leave lamp", "mute button"),
          alarm.faults().stream().map(PartFault::part).toList());
      assertTrue(alarm.faults().get(0).reason().contains("GPIO line 22"), "" + alarm.faults());
      assertTrue(wires.lit(MIX_LAMP), "the others work");
      run(alarm, 80, 26_000);
      assertTrue(beatsOn(BUZZER, 8) > 0);
      wires.taken(LEAVE_LAMP, false);
      wires.taken(BUTTON, false);
      run(alarm, 70, 26_000);
      assertTrue(beatsOn(LEAVE_LAMP, 8) > 0, "tried again every minute");
      assertEquals(List.of(), alarm.faults());
    }
  }

  @Test
  void aPartThatIsOnAtALowLevelIsTurnedAround() {
    Properties properties = settings();
    properties.setProperty("gpio.active-low", "alarm.buzzer, alarm.leave-lamp");
    WatchSettings watched =
        WatchSettings.workRoom(VaporSensor.Chip.with(CleanAirReading.of(30_000, START)));
    try (LocalAlarm alarm =
        LocalAlarm.wired(
            pace, wires, AlarmLines.of(properties).orElseThrow(), watched, told::add)) {
      run(alarm, 16 * 60, 30_000);
      assertTrue(wires.lit(BUZZER) && wires.lit(LEAVE_LAMP), "high is off");
      assertTrue(wires.lit(MIX_LAMP), "and of the others on");
      run(alarm, 80, 26_000);
      assertEquals(20, beatsOn(BUZZER, 40));
      alarm.close();
      assertTrue(wires.lit(BUZZER), "off at the end");
    }
    properties.setProperty("gpio.active-low", "alarm.siren");
    assertTrue(refusal(properties).contains("alarm.siren"));
    properties.setProperty("gpio.active-low", "fan.relay");
    assertTrue(refusal(properties).contains("fan.relay"), "it has no line");
  }

  /** BCM2835 peripherals, table of pulls at reset (from memory): GPIO 0 to 8 are pulled up. */
  @Test
  void linesThatAreHighWhileThePiBootsAreRefusedForTheFan() {
    for (String line : List.of("0", "1", "5", "6", "7", "8")) {
      Properties properties = new Properties();
      properties.setProperty("fan.relay", line);
      assertTrue(refusal(properties).contains("while it boots"), refusal(properties));
    }
    Properties properties = new Properties();
    properties.setProperty("fan.relay", "9");
    assertTrue(AlarmLines.of(properties).isPresent());
  }

  private static String refusal(Properties properties) {
    return String.valueOf(
        assertThrows(IllegalArgumentException.class, () -> AlarmLines.of(properties)).getMessage());
  }

  @Test
  void aBrokenLampDoesNotSilenceTheBuzzer() {
    wires.breakLine(LEAVE_LAMP);
    try (LocalAlarm alarm = alarm()) {
      run(alarm, 16 * 60, 30_000);
      run(alarm, 80, 26_000);
      assertTrue(beatsOn(BUZZER, 8) > 0);
    }
  }

  @Test
  void closingSwitchesEverythingOff() {
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
  void whatTheBrokerIsToldCanBeReadAgain() throws MalformedMessage {
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
  void unknownIsNotSaidToBeSinceBeforeTheDeviceWasStarted() {
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
  void withADetectorTheRoomIsWarnedByItsPpmAndByItsSilence() {
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
  void aChipsTicksSayNothingToADetectorsWatch() {
    WatchSettings settings =
        WatchSettings.workRoom(new VaporSensor.Pid(ExposureLimit.byId("osha").orElseThrow(), 0.45));
    try (LocalAlarm alarm = LocalAlarm.unwired(pace, settings, told::add)) {
      run(alarm, 600, 30_000);
      assertEquals(AirCall.UNKNOWN, alarm.watch().call());
    }
  }
}
