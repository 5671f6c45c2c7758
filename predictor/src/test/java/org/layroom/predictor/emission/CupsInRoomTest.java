package org.layroom.predictor.emission;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * The one-box model worked out by hand: 2.0 kg of resin at 42 % rolled by hand (134.44 g by 40 CFR
 * 63 Subpart WWWW, from memory) in 40 m3 at 25 degC, half until 0.5 h and half until 1.25 h.
 */
class CupsInRoomTest {
  private static final Layup TWO_KG =
      Layup.of(Layup.Batch.resin(2, 42), Duration.ofMinutes(30), Duration.ofMinutes(75));

  private static VentilatedRoom room(double changes) {
    return new VentilatedRoom(40, AirChanges.given(changes), 1, 25);
  }

  private static double after(double changes, int... minutes) {
    return CupsInRoom.ppm(
        room(changes),
        java.util.Arrays.stream(minutes)
            .mapToObj(one -> new CupsInRoom.Cup(TWO_KG, Duration.ofMinutes(one)))
            .toList());
  }

  @Test
  void oneCupIsTheBoxModelsOwnCourse() {
    assertEquals(424.46, after(1, 75), 0.05);
    assertEquals(204.45, after(3, 30), 0.05);
    assertEquals(789.5, after(0, 75), 0.1);
    assertEquals(125.03, after(6, 30), 0.05);
    // 125.03 ppm fall to 20 ppm in 18.33 min at 6 changes an hour; here from the end of the source.
    assertEquals(after(6, 75) * Math.exp(-6 * 0.5), after(6, 105), 1e-6);
  }

  @Test
  void cupsAddUpAndOneThatIsNotMixedYetGivesNothing() {
    assertEquals(after(6, 75) + after(6, 30), after(6, 75, 30), 1e-9);
    assertEquals(after(6, 30), after(6, 30, -5), 0);
    assertEquals(0, CupsInRoom.ppm(room(6), List.of()), 0);
  }
}
