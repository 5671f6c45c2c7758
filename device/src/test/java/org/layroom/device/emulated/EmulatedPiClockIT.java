package org.layroom.device.emulated;

import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.extension.ExtendWith;

/** The shipped device on an emulated Pi whose clock is set at last, and then by a week. */
@Tag("emulated-pi")
@ExtendWith(OnePi.class)
@Order(3)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class EmulatedPiClockIT {
  private final PiBench bench;
  private final Arrivals came;

  EmulatedPiClockIT(PiBench bench) {
    this.bench = bench;
    came = new Arrivals(bench);
  }

  @Test
  @Order(1)
  void onceTheClockIsSetSamplesCarryTheTime() throws Exception {
    bench.pi().run("date -u -s '2026-11-25 12:00:00'");
    long set = came.last();
    Instant noon = Instant.parse("2026-11-25T12:00:00Z");
    came.awaitSamplesAt(noon, set, 1);
    came.nothingLostNothingMadeUp();
  }

  /** A week forward and two weeks back: numbers go on, and times follow the clock. */
  @Test
  @Order(2)
  void aClockSetByAWeekLosesNothing() throws Exception {
    for (String day : List.of("2026-12-02", "2026-11-18")) {
      bench.pi().run("date -u -s '" + day + " 12:00:00'");
      Instant noon = Instant.parse(day + "T12:00:00Z");
      long set = came.last();
      came.awaitSamplesAt(noon, set, 3);
      came.awaitStatus(s -> s.online());
    }
    came.awaitNoGap();
    came.nothingLostNothingMadeUp();
  }
}
