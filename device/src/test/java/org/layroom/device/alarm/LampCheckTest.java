package org.layroom.device.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Properties;
import org.junit.jupiter.api.Test;
import org.layroom.device.pace.SteppedPace;

/** Each lamp by hand. */
class LampCheckTest {
  private final SteppedPace pace = new SteppedPace(Instant.EPOCH);
  private final Wires wires = new Wires();
  private final List<String> said = new ArrayList<>();

  private LampCheck check() {
    Properties properties = new Properties();
    properties.setProperty("alarm.mix-lamp", "17");
    properties.setProperty("alarm.buzzer", "23");
    properties.setProperty("alarm.mute-button", "24");
    properties.setProperty("fan.relay", "25");
    properties.setProperty("gpio.active-low", "alarm.buzzer");
    return new LampCheck(wires, AlarmLines.of(properties).orElseThrow());
  }

  @Test
  void eachIsOnAloneAfterItWasNamed() throws InterruptedException {
    assertTrue(check().test(pace, said::add));
    assertEquals(
        List.of(
            "test   mix lamp on GPIO 17 is on for 2 s",
            "test   buzzer on GPIO 23 is on for 2 s",
            "test   fan relay on GPIO 25 is on for 5 s"),
        said);
    assertEquals(List.of("17 on", "17 off", "23 on", "23 off", "25 on", "25 off"), wires.history());
    assertEquals(Duration.ofSeconds(9), pace.uptime());
    assertTrue(wires.lit(23), "off is high");
  }

  @Test
  void aLineThatCannotBeTakenIsSaidAndTheOthersAreTested() throws InterruptedException {
    wires.taken(17, true);
    assertFalse(check().test(pace, said::add));
    assertTrue(said.stream().anyMatch(line -> line.startsWith("fault  mix lamp: GPIO line 17")));
    assertTrue(said.stream().anyMatch(line -> line.contains("fan relay")));
    List<String> taken = check().taken();
    assertTrue(taken.contains("found  line of the buzzer, GPIO 23"), "" + taken);
    assertTrue(taken.get(0).startsWith("fault  mix lamp"), "" + taken);
    assertFalse(wires.lit(25), "nothing is switched on");
  }
}
