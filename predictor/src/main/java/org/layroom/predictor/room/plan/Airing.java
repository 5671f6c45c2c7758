package org.layroom.predictor.room.plan;

import java.util.OptionalDouble;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.room.RoomResponse;

/**
 * What airing clears and what it costs in mold temperature. Well-mixed air: {@code C = C0 exp(-n
 * t)}, the air flow divided by the mixing factor; the mold follows the colder air by Newton's law.
 *
 * @param minutes the shortest airing that clears, min
 * @param moldLossK how much colder the mold is after it, K; empty when this room does not tell
 * @param moldLossPerHourK the same for a whole hour of airing, K
 * @param words for people
 */
public record Airing(
    double minutes, OptionalDouble moldLossK, OptionalDouble moldLossPerHourK, String words) {

  private static final String UNKNOWN_COST =
      "It is not known yet how much airing cools the mold. Air the room once with a sensor on"
          + " the mold.";

  /**
   * The shortest airing.
   *
   * @param levelNow vapor now, in any unit, above zero
   * @param levelWanted wanted level in the same unit, above zero
   * @param airChangesPerHour with the fan on or the door open, above 0 up to 200
   * @param mixing factor that the air flow is divided by, 1 to 10
   */
  public static Airing until(
      RoomResponse room,
      double levelNow,
      double levelWanted,
      double airChangesPerHour,
      double mixing) {
    require("vapor level now", levelNow, Double.MAX_VALUE);
    require("wanted vapor level", levelWanted, Double.MAX_VALUE);
    require("air changes per hour", airChangesPerHour, 200);
    if (!(mixing >= 1 && mixing <= 10)) {
      throw new IllegalArgumentException("mixing factor " + mixing + " must be between 1 and 10");
    }
    double minutes =
        Math.max(0, 60 * StrictMath.log(levelNow / levelWanted) * mixing / airChangesPerHour);
    OptionalDouble loss = loss(room, minutes / 60);
    return new Airing(minutes, loss, loss(room, 1), words(minutes, loss));
  }

  /** What airing costs in this room, whatever the vapor, in one sentence. */
  public static String costWords(RoomResponse room) {
    OptionalDouble hour = loss(room, 1);
    return hour.isPresent()
        ? "An hour of airing cools the mold by about "
            + Words.celsiusDifference(hour.getAsDouble())
            + "."
        : UNKNOWN_COST;
  }

  private static void require(String what, double value, double most) {
    if (!(value > 0 && value <= most)) {
      throw new IllegalArgumentException(what + " " + value + " must be above 0");
    }
  }

  private static OptionalDouble loss(RoomResponse room, double hours) {
    if (room.airingDropK().isEmpty() || room.moldFollowsHours().isEmpty()) {
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(
        room.airingDropK().getAsDouble()
            * (1 - StrictMath.exp(-hours / room.moldFollowsHours().getAsDouble())));
  }

  private static String words(double minutes, OptionalDouble loss) {
    String air = "Air for at least " + Words.minutes(minutes) + ". ";
    String cost =
        loss.isPresent()
            ? "The mold cools by about " + Words.celsiusDifference(loss.getAsDouble()) + ". "
            : UNKNOWN_COST + " ";
    return air
        + cost
        + "To get both: heat first, close the cans, air once for a short time with everything"
        + " open, then let the warm mold warm the air again. Go by the vapor reading, not by"
        + " the clock.";
  }
}
