package org.layroom.device.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.Properties;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import org.layroom.device.alarm.FanSettings.Motor;
import org.layroom.device.bus.Gpio.AtEnd;
import org.layroom.predictor.vapor.AirCall;

/** When the exhaust fan runs. Its least times are this project's own choice. */
class FanRelayTest {
  private static final FanSettings RATED =
      new FanSettings(FanTimes.usual(), Motor.RATED, AtEnd.OFF);

  private final FanRelay relay = new FanRelay(RATED, false);

  private boolean runs(AirCall call, Duration uptime) {
    return relay.step(call, false, uptime);
  }

  @Test
  void itRunsForVentilateAndLeaveAndNeverShort() {
    assertFalse(runs(AirCall.OK, Duration.ZERO));
    assertTrue(runs(AirCall.VENTILATE, Duration.ofSeconds(1)), "at once");
    assertTrue(runs(AirCall.OK, Duration.ofSeconds(2)));
    assertTrue(runs(AirCall.OK, Duration.ofMinutes(10)), "ten minutes at least");
    assertFalse(runs(AirCall.OK, Duration.ofSeconds(601)));
    assertFalse(runs(AirCall.LEAVE, Duration.ofSeconds(602)), "three minutes of rest");
    assertTrue(runs(AirCall.LEAVE, Duration.ofSeconds(781)));
  }

  @Test
  void whatWasNeverKnownLeavesItAsItWas() {
    assertFalse(runs(AirCall.UNKNOWN, Duration.ZERO));
    FanRelay running = new FanRelay(RATED, true);
    assertTrue(running.step(AirCall.UNKNOWN, false, Duration.ofHours(1)));
  }

  /** A spark of the motor in the vapor stream may light it; nobody has said that it cannot. */
  @Test
  void aMotorOfWhichNothingIsKnownIsNotSwitchedInAirThatMayExplode() {
    for (boolean on : List.of(false, true)) {
      FanRelay unknown = new FanRelay(FanSettings.usual(), on);
      assertEquals(on, unknown.step(AirCall.LEAVE, true, Duration.ZERO));
      assertEquals(on, unknown.step(AirCall.OK, true, Duration.ofHours(1)));
      assertEquals(AtEnd.AS_IT_WAS, unknown.atEnd(true), "nor at the end of the program");
      assertTrue(unknown.step(AirCall.LEAVE, false, Duration.ofHours(2)));
      for (Motor said : List.of(Motor.RATED, Motor.OUT_OF_STREAM)) {
        FanRelay known = new FanRelay(new FanSettings(FanTimes.usual(), said, AtEnd.OFF), on);
        assertTrue(known.step(AirCall.LEAVE, true, Duration.ZERO));
        assertEquals(AtEnd.OFF, known.atEnd(true));
      }
    }
  }

  @Test
  void aTestRunsItForAMomentAndDelaysNoAiring() {
    relay.test(Duration.ofSeconds(1));
    assertTrue(runs(AirCall.OK, Duration.ofSeconds(2)));
    assertFalse(runs(AirCall.OK, Duration.ofSeconds(7)));
    relay.test(Duration.ofSeconds(8));
    assertTrue(runs(AirCall.VENTILATE, Duration.ofSeconds(9)));
    assertTrue(runs(AirCall.VENTILATE, Duration.ofSeconds(60)), "the call goes on with it");
    FanRelay unknown = new FanRelay(FanSettings.usual(), false);
    unknown.test(Duration.ZERO);
    assertFalse(unknown.step(AirCall.LEAVE, true, Duration.ofSeconds(1)), "no test in such air");
  }

  @Property
  void itNeverChatters(
      @ForAll @Size(min = 1, max = 200) List<AirCall> calls,
      @ForAll @IntRange(min = 1, max = 120) int leastOn,
      @ForAll @IntRange(min = 1, max = 60) int leastOff) {
    FanRelay one =
        new FanRelay(
            new FanSettings(
                new FanTimes(Duration.ofMinutes(leastOn), Duration.ofMinutes(leastOff)),
                Motor.RATED,
                AtEnd.OFF),
            false);
    Duration now = Duration.ZERO;
    boolean on = false;
    Optional<Duration> changed = Optional.empty();
    for (AirCall call : calls) {
      now = now.plusSeconds(40);
      if (one.step(call, false, now) != on) {
        if (changed.isPresent()) {
          Duration lasted = now.minus(changed.get());
          assertTrue(
              lasted.compareTo(Duration.ofMinutes(on ? leastOn : leastOff)) >= 0,
              "after " + lasted + " from on=" + on);
        }
        on = !on;
        changed = Optional.of(now);
      }
    }
  }

  @Test
  void itsMotorAndItsEndAreSettings() {
    assertEquals(Motor.UNKNOWN, FanSettings.of(new Properties()).motor());
    assertEquals(AtEnd.OFF, FanSettings.of(new Properties()).whenStopped());
    assertEquals(
        Motor.OUT_OF_STREAM, FanSettings.of(settings("fan.motor", "out-of-stream")).motor());
    assertEquals(
        AtEnd.AS_IT_WAS, FanSettings.of(settings("fan.when-stopped", "as-it-was")).whenStopped());
    assertTrue(refusal(settings("fan.motor", "big")).contains("out-of-stream, rated or unknown"));
    assertTrue(refusal(settings("fan.when-stopped", "no")).contains("off, on or as-it-was"));
    Properties none = new Properties();
    none.setProperty("fan.motor", "rated");
    assertTrue(refusal(none).contains("needs fan.relay"));
  }

  private static Properties settings(String key, String value) {
    Properties properties = new Properties();
    properties.setProperty("fan.relay", "25");
    properties.setProperty(key, value);
    return properties;
  }

  @Test
  void itsTimesAreSettingsWithARange() {
    assertEquals(FanTimes.usual(), FanTimes.of(new Properties()));
    assertEquals(
        new FanTimes(Duration.ofMinutes(30), Duration.ofMinutes(3)),
        FanTimes.of(settings("fan.least-on-minutes", "30")));
    assertEquals(
        new FanTimes(Duration.ofMinutes(10), Duration.ofSeconds(90)),
        FanTimes.of(settings("fan.least-off-minutes", "1.5")));
    for (String wrong : List.of("0", "0.9", "121", "-5", "ten", "NaN", "1e9")) {
      String message = refusal(settings("fan.least-on-minutes", wrong));
      assertTrue(message.contains(wrong) && message.contains("minutes from 1 to 120"), message);
    }
    assertTrue(refusal(settings("fan.least-off-minutes", "61")).contains("from 1 to 60"));
  }

  @Test
  void aTimeWithoutAFanIsRefusedAsItWouldDoNothing() {
    Properties properties = new Properties();
    properties.setProperty("fan.least-on-minutes", "30");
    assertTrue(refusal(properties).contains("fan.relay"));
  }

  private static String refusal(Properties properties) {
    return String.valueOf(
        assertThrows(IllegalArgumentException.class, () -> AlarmLines.of(properties)).getMessage());
  }
}
