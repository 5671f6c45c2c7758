package org.layroom.device.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Properties;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import org.layroom.device.bus.BusFault;
import org.layroom.predictor.vapor.AirCall;

/** When the exhaust fan runs. Its least times are this project's own choice. */
class FanRelayTest {
  private final List<Boolean> switched = new ArrayList<>();
  private final FanRelay relay = new FanRelay(switched::add, FanTimes.usual());

  private boolean runs() {
    return !switched.isEmpty() && switched.get(switched.size() - 1);
  }

  @Test
  void itRunsForVentilateAndLeaveAndNeverShort() throws BusFault {
    relay.step(AirCall.OK, Duration.ZERO);
    assertFalse(runs());
    relay.step(AirCall.VENTILATE, Duration.ofSeconds(1));
    assertTrue(runs(), "at once");
    relay.step(AirCall.OK, Duration.ofSeconds(2));
    relay.step(AirCall.OK, Duration.ofMinutes(10));
    assertTrue(runs(), "ten minutes at least");
    relay.step(AirCall.OK, Duration.ofSeconds(601));
    assertFalse(runs());
    relay.step(AirCall.LEAVE, Duration.ofSeconds(602));
    assertFalse(runs(), "three minutes of rest");
    relay.step(AirCall.LEAVE, Duration.ofSeconds(781));
    assertTrue(runs());
  }

  @Test
  void aSensorThatFailsDuringAnAiringDoesNotStopIt() throws BusFault {
    relay.step(AirCall.UNKNOWN, Duration.ZERO);
    assertFalse(runs());
    relay.step(AirCall.VENTILATE, Duration.ofSeconds(1));
    relay.step(AirCall.UNKNOWN, Duration.ofHours(1));
    assertTrue(runs());
    relay.off();
    assertFalse(runs(), "the end of the program is its fail-safe state");
  }

  @Property
  void itNeverChatters(
      @ForAll @Size(min = 1, max = 200) List<AirCall> calls,
      @ForAll @IntRange(min = 1, max = 120) int leastOn,
      @ForAll @IntRange(min = 1, max = 60) int leastOff)
      throws BusFault {
    List<Duration> times = new ArrayList<>();
    List<Boolean> states = new ArrayList<>();
    Duration[] now = {Duration.ZERO};
    FanRelay one =
        new FanRelay(
            on -> {
              times.add(now[0]);
              states.add(on);
            },
            new FanTimes(Duration.ofMinutes(leastOn), Duration.ofMinutes(leastOff)));
    for (AirCall call : calls) {
      now[0] = now[0].plusSeconds(40);
      one.step(call, now[0]);
    }
    for (int i = 1; i < times.size(); i++) {
      Duration lasted = times.get(i).minus(times.get(i - 1));
      long least = states.get(i - 1) ? leastOn : leastOff;
      assertTrue(lasted.compareTo(Duration.ofMinutes(least)) >= 0, times + " " + states);
      assertEquals(!states.get(i - 1), states.get(i));
    }
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
