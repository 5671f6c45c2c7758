package org.layroom.predictor.emission;

import java.time.Duration;
import java.util.List;
import org.layroom.predictor.exposure.Styrene;

/**
 * The styrene in a room while cups are worked one after another: the well-mixed box is linear, so
 * the vapor of each cup is worked out alone and added. Cost: a few exponentials for each cup.
 */
public final class CupsInRoom {
  private CupsInRoom() {}

  /**
   * A cup that was mixed.
   *
   * @param layup what it holds, and how long it is worked and gels, from its mixing on
   * @param since how long ago it was mixed; negative before it is
   */
  public record Cup(Layup layup, Duration since) {}

  /** Styrene in the room now, ppm: the air of the room, not that near the work. */
  public static double ppm(VentilatedRoom room, List<Cup> cups) {
    return cups.stream().mapToDouble(cup -> ppm(room, cup)).sum();
  }

  private static double ppm(VentilatedRoom room, Cup cup) {
    return new BoxModel(
            room.volumeM3(),
            room.effectivePerHour(),
            Styrene.milligramsPerM3InOnePpm(room.airC()),
            0,
            Double.POSITIVE_INFINITY,
            LayupAir.stretches(cup.layup()))
        .at(cup.since().toMillis() / 3_600_000.0);
  }
}
