package org.layroom.dashboard.mqtt;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.net.URI;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.layroom.device.encryption.TrustedAuthority;

/** Messages on their way out, and where they go. */
class OutgoingQueueTest {
  private final OutgoingQueue outgoing = new OutgoingQueue();

  private static byte[] body(int value) {
    return new byte[] {(byte) value};
  }

  @Test
  void onlyTheNewestStateOfARetainedTopicIsSentWhileOneIsOnItsWay() {
    outgoing.add("mark", body(1), true);
    OutgoingQueue.Message first = outgoing.next().orElseThrow();
    outgoing.add("mark", body(2), true);
    outgoing.add("mark", body(3), true);
    assertFalse(outgoing.next().isPresent());
    outgoing.done(first);
    assertArrayEquals(body(3), outgoing.next().orElseThrow().body());
    assertFalse(outgoing.next().isPresent());
  }

  @Test
  void everyMessageThatIsNotRetainedIsSent() {
    outgoing.add("acknowledge", body(1), false);
    outgoing.add("acknowledge", body(2), false);
    assertArrayEquals(body(1), outgoing.next().orElseThrow().body());
    assertArrayEquals(body(2), outgoing.next().orElseThrow().body());
  }

  @Test
  void whatWasOnItsWayWhenTheConnectionBrokeIsSentAgainUnlessThereIsNewer() {
    outgoing.add("mark", body(1), true);
    outgoing.add("warnings", body(7), true);
    outgoing.next();
    outgoing.next();
    outgoing.add("mark", body(2), true);
    outgoing.connectionGone();
    assertArrayEquals(body(2), outgoing.next().orElseThrow().body());
    assertArrayEquals(body(7), outgoing.next().orElseThrow().body());
    assertTrue(outgoing.next().isEmpty());
  }

  private static LinkSettings settings(String uri) {
    return new LinkSettings(
        URI.create(uri),
        "x",
        true,
        Optional.empty(),
        Optional.empty(),
        new TrustedAuthority(Optional.empty()),
        LinkTimes.USUAL);
  }

  @ParameterizedTest
  @CsvSource({
    "mqtt://shop, tcp://shop:1883",
    "mqtts://shop, ssl://shop:8883",
    "tcp://10.0.0.2:1999, tcp://10.0.0.2:1999",
    "SSL://shop:1, ssl://shop:1"
  })
  void aBrokersAddressMayBeWrittenInSeveralWays(String written, String meant) {
    assertEquals(meant, settings(written).serverUri());
  }

  @ParameterizedTest
  @ValueSource(strings = {"http://shop", "shop:1883", "tcp:shop"})
  void anAddressThatCannotBeABrokersIsRefusedWithAnExample(String uri) {
    IllegalArgumentException refused =
        assertThrows(IllegalArgumentException.class, () -> settings(uri));
    assertTrue(String.valueOf(refused.getMessage()).contains("tcp://host:1883"));
  }
}
