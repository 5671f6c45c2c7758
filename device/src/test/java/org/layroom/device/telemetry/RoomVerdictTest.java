package org.layroom.device.telemetry;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.material.TemperatureRange;
import org.layroom.predictor.verdict.State;

/** What a device hears of the room's mix check; the words are those of the contract. */
class RoomVerdictTest {
  private static RoomVerdict read(String json) throws MalformedMessage {
    return RoomVerdict.read(json.getBytes(UTF_8));
  }

  @Test
  void theFourVerdictsAreUnderstoodAndOtherFieldsAreForPeople() throws MalformedMessage {
    assertEquals(Optional.of(State.MIX), read("{\"verdict\":\"mix\",\"x\":[1]}").verdict());
    assertEquals(Optional.of(State.WAIT), read("{\"verdict\":\"wait\"}").verdict());
    assertEquals(Optional.of(State.NO), read("{\"verdict\":\"no\"}").verdict());
    assertEquals(Optional.of(State.UNKNOWN), read("{\"verdict\":\"unknown\"}").verdict());
    assertEquals(
        Optional.of(new TemperatureRange(16, 30)),
        read("{\"verdict\":\"no\",\"temperatureC\":{\"min\":16,\"max\":30}}").temperatureC());
  }

  @Test
  void whatIsWrittenCanBeReadAgain() throws MalformedMessage {
    RoomVerdict said =
        new RoomVerdict(Optional.of(State.WAIT), Optional.of(new TemperatureRange(16, 30)));
    assertEquals(said, RoomVerdict.read(said.write()));
    assertEquals(said.withoutVerdict(), RoomVerdict.read(said.withoutVerdict().write()));
  }

  @Test
  void whatIsNoVerdictIsRefused() {
    for (String wrong :
        List.of(
            "",
            "[]",
            "{\"verdict\":\"go\"}",
            "{\"verdict\":\"mix\",\"temperatureC\":{\"min\":\"16\",\"max\":30}}",
            "{\"verdict\":\"mix\",\"temperatureC\":{\"min\":30,\"max\":16}}",
            "{\"verdict\":\"mix\",\"temperatureC\":7}")) {
      assertThrows(MalformedMessage.class, () -> read(wrong), wrong);
    }
  }
}
