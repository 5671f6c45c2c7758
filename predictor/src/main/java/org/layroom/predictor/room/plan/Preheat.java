package org.layroom.predictor.room.plan;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.room.ForecastPoint;
import org.layroom.predictor.room.RoomForecast;
import org.layroom.predictor.room.RoomResponse;
import org.layroom.predictor.room.SeriesForecast;

/**
 * What heating buys, from how this room warmed up before: the air rises as it usually did, up to
 * three kelvin above the wanted temperature, and the mold follows it by Newton's law.
 *
 * @param hours how long to heat before mixing, h; empty when this room does not tell
 * @param words for people, with the caution
 */
public record Preheat(OptionalDouble hours, String words) {
  /** Goes with every advice to heat. */
  public static final String CAUTION =
      "Heat before you open any can, with a sealed heater: no flame, no glowing element."
          + " Styrene vapor can ignite.";

  private static final Duration SEARCH_STEP = Duration.ofMinutes(30);
  private static final double STEP_HOURS = 1 / 60.0;
  private static final double LONGEST_HOURS = 24;
  private static final double ABOVE_K = 3;

  /**
   * Hours of heating until the mold has a temperature.
   *
   * @param airC air temperature when the heater goes on, degC
   * @param moldC mold temperature then, degC
   * @param wantedC wanted mold temperature, 10 to 35 degC
   */
  public static Preheat until(RoomResponse room, double airC, double moldC, double wantedC) {
    if (!(wantedC >= 10 && wantedC <= 35)) {
      throw new IllegalArgumentException(
          "wanted mold temperature " + wantedC + " °C must be between 10 and 35 degC");
    }
    if (moldC >= wantedC) {
      return new Preheat(OptionalDouble.of(0), "The mold is warm enough. No heating needed.");
    }
    if (room.warmingKPerH().isEmpty() || room.moldFollowsHours().isEmpty()) {
      return unknown(
          "This room has not been recorded warming up"
              + (room.moldFollowsHours().isEmpty() ? " with a sensor on the mold" : "")
              + ". Heat it once for two hours and ask again. ");
    }
    double warmest = room.warmestC().orElse(-Double.MAX_VALUE);
    double limit = Math.min(wantedC + ABOVE_K, Math.max(warmest, airC));
    double air = airC;
    double mold = moldC;
    double hours = 0;
    while (mold < wantedC && hours < LONGEST_HOURS) {
      air = Math.max(air, Math.min(limit, air + room.warmingKPerH().getAsDouble() * STEP_HOURS));
      mold += (air - mold) / room.moldFollowsHours().getAsDouble() * STEP_HOURS;
      hours += STEP_HOURS;
    }
    if (mold < wantedC) {
      return unknown(
          "This room's air has not been above "
              + Words.celsius(warmest)
              + " in a warm-up. That is not enough for a mold at "
              + Words.celsius(wantedC)
              + ". ");
    }
    return new Preheat(
        OptionalDouble.of(hours),
        "Heat for about "
            + Words.number(hours, 1)
            + " h, from the last "
            + (room.warmUps() == 1 ? "warm-up" : room.warmUps() + " warm-ups")
            + ". "
            + CAUTION);
  }

  /**
   * From when to heat so that the mold has a temperature at a time to come.
   *
   * @param start when the mold is to be warm, inside the forecast
   * @param wantedC wanted mold temperature, 10 to 35 degC
   * @return empty when this room does not tell, or heating since the forecast's time is too short
   */
  public static Optional<Instant> from(
      RoomResponse room, RoomForecast forecast, Instant start, double wantedC) {
    for (Instant at = start.minus(SEARCH_STEP);
        at.isAfter(forecast.at()) && Duration.between(at, start).toHours() < LONGEST_HOURS;
        at = at.minus(SEARCH_STEP)) {
      double hours = Duration.between(at, start).toMinutes() / 60.0;
      double airC = likely(forecast.air(), at);
      double moldC = likely(forecast.moldOrAir(), at);
      OptionalDouble needed = until(room, airC, moldC, wantedC).hours();
      if (needed.isPresent() && needed.getAsDouble() <= hours) {
        return Optional.of(at);
      }
    }
    return Optional.empty();
  }

  private static double likely(SeriesForecast course, Instant time) {
    for (ForecastPoint point : course.points()) {
      if (!point.time().isBefore(time)) {
        return point.p50();
      }
    }
    return course.points().get(course.points().size() - 1).p50();
  }

  private static Preheat unknown(String why) {
    return new Preheat(OptionalDouble.empty(), why + CAUTION);
  }
}
