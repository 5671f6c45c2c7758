package org.layroom.device.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Properties;
import org.junit.jupiter.api.Test;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio.AtEnd;
import org.layroom.device.bus.Gpio.Wire;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.WatchSettings;

/**
 * The alarm is stopped in bad air and started again: the chip has to settle for an hour, and the
 * room does not wait for it.
 */
class AlarmRestartTest {
  private static final Instant START = Instant.parse("2026-03-14T19:00:00Z");
  private static final int VENTILATE_LAMP = 27;
  private static final int LEAVE_LAMP = 22;
  private static final int BUZZER = 23;
  private static final int BUTTON = 24;
  private static final int FAN = 25;
  private static final double CLEAN = 30_000;

  /** 3.1 times clean air: 870 ticks per doubling (SGP40 data sheet, ethanol), 1.632 doublings. */
  private static final double THREE_TIMES = CLEAN - 1420;

  private static final double SIXTEEN_TIMES = CLEAN - 4 * 870;

  private final SteppedPace pace = new SteppedPace(START);
  private final Wires wires = new Wires();
  private final Paper paper = new Paper(pace);
  private final List<AlarmState> told = new ArrayList<>();
  private String motor = "out-of-stream";
  private String whenStopped = "off";
  private int count;

  /** Keeps the newest in memory, and says that it was off for a while beside. */
  private static final class Paper implements AlarmStore {
    private Optional<AlarmMemory> memory = Optional.empty();
    private Instant at = START;
    private final SteppedPace pace;
    private Optional<Duration> off = Optional.of(Duration.ZERO);
    private int written;

    Paper(SteppedPace pace) {
      this.pace = pace;
    }

    @Override
    public Optional<Recorded> recall() {
      Optional<Duration> age = off.map(time -> Duration.between(at.minus(time), pace.now()));
      return memory.map(one -> new Recorded(one, at, true, age));
    }

    @Override
    public void keep(AlarmMemory now, Instant when, boolean atBelieved) {
      memory = Optional.of(now);
      at = when;
      written++;
    }

    @Override
    public void close() {}
  }

  private LocalAlarm start() {
    Properties properties = new Properties();
    properties.setProperty("alarm.ventilate-lamp", "27");
    properties.setProperty("alarm.leave-lamp", "22");
    properties.setProperty("alarm.buzzer", "23");
    properties.setProperty("alarm.mute-button", String.valueOf(BUTTON));
    properties.setProperty("fan.relay", String.valueOf(FAN));
    properties.setProperty("fan.motor", motor);
    properties.setProperty("fan.when-stopped", whenStopped);
    return LocalAlarm.wired(
        pace,
        wires,
        AlarmLines.of(properties).orElseThrow(),
        WatchSettings.workRoom(VaporSensor.Chip.with(CleanAirReading.of(CLEAN, START))),
        told::add,
        paper);
  }

  private void run(LocalAlarm alarm, Duration time, double ticks, Quality quality) {
    for (long i = time.dividedBy(Duration.ofSeconds(10)); i > 0; i--) {
      pace.advanceBy(Duration.ofSeconds(10));
      double raw = ticks == 0 ? 0 : ticks + count++ % 3;
      alarm.accept(
          new Sample(
              pace.uptime(),
              pace.now(),
              pace.wallClockSet(),
              List.of(
                  Reading.of(Series.TEMPERATURE, Series.CELSIUS, 20),
                  Reading.of(Series.HUMIDITY, Series.RELATIVE_HUMIDITY, 50),
                  Reading.of(Series.VOC_RAW, Series.NO_UNIT, raw, quality)),
              List.of()));
    }
  }

  private void settled(LocalAlarm alarm, Duration time, double ticks) {
    run(alarm, time, ticks, Quality.good());
  }

  private void settling(LocalAlarm alarm, Duration time, double ticks) {
    run(alarm, time, ticks, Quality.suspect("settling during the first hour"));
  }

  /** An alarm that says this after clean air. */
  private LocalAlarm saying(AirCall call, double ticks) {
    LocalAlarm alarm = start();
    settled(alarm, Duration.ofMinutes(20), CLEAN);
    settled(alarm, Duration.ofMinutes(20), ticks);
    assertEquals(call, alarm.watch().call());
    return alarm;
  }

  private AlarmState last() {
    return told.get(told.size() - 1);
  }

  @Test
  void ventilateAndFanAreBackBeforeTheChipHasSettled() {
    LocalAlarm before = saying(AirCall.VENTILATE, THREE_TIMES);
    AlarmState stood = last();
    assertTrue(wires.lit(FAN));
    before.close();
    assertFalse(wires.lit(FAN), "off when stopped, as the settings say");
    try (LocalAlarm after = start()) {
      assertTrue(wires.lit(FAN), "with the start");
      pace.advanceBy(Duration.ofSeconds(15));
      assertTrue(wires.lit(VENTILATE_LAMP));
      assertEquals("ventilate", last().state());
      assertEquals(stood.id(), last().id(), "the same warning and no new one");
      assertEquals(stood.since(), last().since());
      settling(after, Duration.ofMinutes(50), THREE_TIMES);
      assertTrue(wires.lit(FAN));
      assertEquals("ventilate", last().state());
      settled(after, Duration.ofMinutes(30), CLEAN);
      assertEquals("ok", last().state(), "its own sensor says so");
      assertFalse(wires.lit(FAN));
    }
  }

  @Test
  void leaveStandsUntilItIsAcknowledgedAlsoOverARestart() {
    LocalAlarm before = saying(AirCall.LEAVE, SIXTEEN_TIMES);
    AlarmState stood = last();
    before.close();
    try (LocalAlarm after = start()) {
      assertEquals("leave", last().state());
      assertEquals(stood.id(), last().id());
      assertTrue(wires.lit(FAN));
      pace.advanceBy(Duration.ofSeconds(3));
      boolean lit = false;
      boolean heard = false;
      for (int beat = 0; beat < 8; beat++) {
        pace.advanceBy(LocalAlarm.BEAT);
        lit |= wires.lit(LEAVE_LAMP);
        heard |= wires.lit(BUZZER);
      }
      assertTrue(lit && heard);
      after.acknowledged(new Acknowledgment(stood.id(), "Kim", START));
      assertEquals("Kim", last().acknowledged().orElseThrow().who());
    }
    try (LocalAlarm third = start()) {
      assertEquals("Kim", last().acknowledged().orElseThrow().who(), "nor is that forgotten");
      assertEquals(AirCall.LEAVE, third.watch().call());
    }
  }

  @Test
  void anAcknowledgedVentilateDoesNotSoundAnewAfterARestart() {
    LocalAlarm before = saying(AirCall.VENTILATE, THREE_TIMES);
    before.acknowledged(new Acknowledgment(last().id(), "Kim", START));
    before.close();
    try (LocalAlarm after = start()) {
      pace.advanceBy(Duration.ofSeconds(3));
      for (int beat = 0; beat < 400; beat++) {
        pace.advanceBy(LocalAlarm.BEAT);
        assertFalse(wires.lit(BUZZER), "beat " + beat);
      }
      assertEquals("ventilate", last().state());
      assertEquals(AirCall.UNKNOWN, after.watch().call(), "what its own sensor knows");
    }
  }

  @Test
  void aRecordOlderThanEightHoursBringsBackTheAlarmAndNotTheFan() {
    saying(AirCall.VENTILATE, THREE_TIMES).close();
    paper.off = Optional.of(Duration.ofHours(8).plusSeconds(1));
    try (LocalAlarm after = start()) {
      settling(after, Duration.ofSeconds(10), CLEAN);
      assertEquals("ventilate", last().state());
      assertFalse(wires.lit(FAN));
      settling(after, Duration.ofMinutes(3), SIXTEEN_TIMES);
      assertTrue(wires.lit(FAN), "what this start measures itself counts");
    }
  }

  @Test
  void whereNobodyCanTellTheAgeTheFanRunsUntilTheClockSaysThatItIsOld() {
    saying(AirCall.VENTILATE, THREE_TIMES).close();
    pace.setWallClockSet(false);
    paper.off = Optional.empty();
    try (LocalAlarm after = start()) {
      settling(after, Duration.ofSeconds(20), THREE_TIMES);
      assertTrue(wires.lit(FAN));
      pace.setWallClock(paper.at.plus(Duration.ofDays(3)));
      pace.setWallClockSet(true);
      settling(after, Duration.ofMinutes(20), CLEAN);
      assertFalse(wires.lit(FAN));
      assertEquals("ventilate", last().state());
    }
  }

  @Test
  void wipingIsSilentOverARestartForWhatIsLeftOfItsQuarterHourAndNoLonger() {
    LocalAlarm before = start();
    settled(before, Duration.ofMinutes(20), CLEAN);
    before.wiping();
    settled(before, Duration.ofMinutes(5), THREE_TIMES);
    assertEquals(AirCall.VENTILATE, before.watch().call());
    assertEquals(AirWarning.Sound.SILENT, before.watch().warning().orElseThrow().sound());
    Instant until = before.watch().wipingUntil().orElseThrow();
    before.close();
    try (LocalAlarm after = start()) {
      assertEquals(until, after.watch().wipingUntil().orElseThrow());
      settled(after, Duration.ofMinutes(11), THREE_TIMES);
      assertEquals(Optional.empty(), after.watch().wipingUntil());
    }
    paper.off = Optional.empty();
    LocalAlarm again = start();
    assertEquals(Optional.empty(), again.watch().wipingUntil(), "nobody knows how long ago");
    again.close();
  }

  @Test
  void aMotorOfWhichNothingIsKnownStaysAsItWasInSaturatedAir() {
    motor = "unknown";
    LocalAlarm before = start();
    settled(before, Duration.ofMinutes(20), CLEAN);
    settled(before, Duration.ofMinutes(2), 0);
    assertEquals(AirCall.LEAVE, before.watch().call());
    assertFalse(wires.lit(FAN), "not started");
    assertEquals(AtEnd.AS_IT_WAS, wires.end(FAN), "nor at the end");
    before.close();
    try (LocalAlarm after = start()) {
      pace.advanceBy(Duration.ofSeconds(15));
      assertFalse(wires.lit(FAN), "nor by a restart");
      settling(after, Duration.ofSeconds(20), SIXTEEN_TIMES);
      assertTrue(wires.lit(FAN), "below the chip's end");
      settling(after, Duration.ofSeconds(20), 0);
      after.close();
      assertTrue(wires.lit(FAN), "not stopped either");
      assertFalse(wires.lit(VENTILATE_LAMP) || wires.lit(LEAVE_LAMP) || wires.lit(BUZZER));
    }
  }

  @Test
  void whatTheFanDoesWhenTheProgramDiesIsASetting() throws BusFault {
    for (String[] both :
        List.of(
            new String[] {"off", "false"},
            new String[] {"on", "true"},
            new String[] {"as-it-was", "true"})) {
      whenStopped = both[0];
      LocalAlarm alarm = saying(AirCall.VENTILATE, THREE_TIMES);
      alarm.close();
      assertEquals(Boolean.valueOf(both[1]), wires.lit(FAN), both[0] + ", stopped");
      wires.output(Wire.of(FAN), true);
      Properties lines = new Properties();
      lines.setProperty("fan.relay", String.valueOf(FAN));
      lines.setProperty("fan.when-stopped", whenStopped);
      LocalAlarm.dark(wires, AlarmLines.of(lines).orElseThrow(), paper.memory);
      assertEquals(Boolean.valueOf(both[1]), wires.lit(FAN), both[0] + ", killed");
      paper.memory = Optional.empty();
    }
  }

  @Test
  void warningsOfTwoStartsNeverHaveOneName() {
    saying(AirCall.VENTILATE, THREE_TIMES).close();
    String first = last().id();
    try (LocalAlarm after = start()) {
      settling(after, Duration.ofMinutes(3), SIXTEEN_TIMES);
      assertEquals("leave", last().state());
      assertFalse(last().id().equals(first));
      assertEquals(
          told.stream()
              .filter(one -> !one.id().isEmpty())
              .map(one -> one.id() + one.state())
              .distinct()
              .count(),
          told.stream().map(AlarmState::id).filter(id -> !id.isEmpty()).distinct().count(),
          "one name, one call");
    }
  }

  @Test
  void inCleanAirNothingIsWrittenAgainAndAgain() {
    WatchSettings settings =
        WatchSettings.workRoom(VaporSensor.Chip.with(CleanAirReading.of(CLEAN, START)));
    try (LocalAlarm alarm = LocalAlarm.unwired(pace, settings, told::add, paper)) {
      settled(alarm, Duration.ofMinutes(20), CLEAN);
      int before = paper.written;
      settled(alarm, Duration.ofHours(12), CLEAN);
      assertEquals(before, paper.written);
      settled(alarm, Duration.ofHours(2), THREE_TIMES);
      assertTrue(paper.written - before <= 12, "every 15 min in bad air, not more");
      assertTrue(paper.written - before >= 8);
    }
  }
}
