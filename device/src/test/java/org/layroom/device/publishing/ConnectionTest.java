package org.layroom.device.publishing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.net.URI;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.layroom.device.telemetry.Channel;
import org.layroom.testing.Seed;

/** How long a device waits before it tries to connect again. */
class ConnectionTest {
  private static final BrokerAddress NOBODY = BrokerAddress.of(URI.create("tcp://127.0.0.1:1"));
  private static final Channel BENCH = Channel.of("shop", "bench");

  private static List<Duration> waits(Connection connection, int tries) {
    List<Duration> waits = new ArrayList<>();
    for (int i = 0; i < tries; i++) {
      waits.add(connection.failed("nobody is there").orElseThrow());
    }
    return waits;
  }

  @Test
  void eachWaitIsTwiceAsLongUpToHalfAMinute() {
    assertEquals(
        List.of(250L, 500L, 1000L, 2000L, 4000L, 8000L, 16_000L, 30_000L, 30_000L),
        waits(new Connection(NOBODY, BENCH, () -> 0.5), 9).stream()
            .map(Duration::toMillis)
            .toList());
  }

  @Test
  void chanceMakesItHalfToOneAndAHalfTimesAsLongAndNeverAddsUp() {
    List<Duration> least = waits(new Connection(NOBODY, BENCH, () -> 0), 9);
    List<Duration> most = waits(new Connection(NOBODY, BENCH, () -> 0.999_999), 9);
    assertEquals(Duration.ofMillis(125), least.get(0));
    assertEquals(Duration.ofSeconds(15), least.get(8));
    assertEquals(374, most.get(0).toMillis());
    assertEquals(44_999, most.get(8).toMillis());
  }

  @Test
  void aHundredDevicesThatLostOneBrokerComeBackAtManyMoments() {
    Random random = new Random(Seed.value());
    Set<Long> moments = new HashSet<>();
    for (int device = 0; device < 100; device++) {
      moments.add(
          waits(new Connection(NOBODY, BENCH, random::nextDouble), 3).get(2).toMillis() / 10);
    }
    assertTrue(moments.size() > 30, moments.size() + " hundredths of a second");
  }
}
