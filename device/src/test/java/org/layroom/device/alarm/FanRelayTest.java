package org.layroom.device.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import org.layroom.device.bus.BusFault;
import org.layroom.predictor.fumes.AirCall;

/** When the exhaust fan runs. Its least times are this project's own choice. */
class FanRelayTest {
  private final List<Boolean> switched = new ArrayList<>();
  private final FanRelay relay = new FanRelay(switched::add);

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
  void itNeverChatters(@ForAll @Size(min = 1, max = 200) List<AirCall> calls) throws BusFault {
    List<Duration> times = new ArrayList<>();
    List<Boolean> states = new ArrayList<>();
    Duration[] now = {Duration.ZERO};
    FanRelay one =
        new FanRelay(
            on -> {
              times.add(now[0]);
              states.add(on);
            });
    for (AirCall call : calls) {
      now[0] = now[0].plusSeconds(40);
      one.step(call, now[0]);
    }
    for (int i = 1; i < times.size(); i++) {
      Duration lasted = times.get(i).minus(times.get(i - 1));
      long least = states.get(i - 1) ? 10 : 3;
      assertTrue(lasted.compareTo(Duration.ofMinutes(least)) >= 0, times + " " + states);
      assertEquals(!states.get(i - 1), states.get(i));
    }
  }
}
