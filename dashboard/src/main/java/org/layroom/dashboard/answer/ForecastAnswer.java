package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.room.ForecastPoint;
import org.layroom.predictor.room.NoForecast;
import org.layroom.predictor.room.RoomAnswer;
import org.layroom.predictor.room.RoomChange;
import org.layroom.predictor.room.RoomForecast;
import org.layroom.predictor.room.RoomForecaster;
import org.layroom.predictor.room.RoomSkill;
import org.layroom.predictor.room.SeriesForecast;

/** What the room will do, as JSON and in words. */
public final class ForecastAnswer {
  private static final Duration FIRST_DAY = Duration.ofHours(24);
  private static final Duration STALE = Duration.ofMinutes(30);
  private static final int FEW = 2;
  private static final int ROW_STEPS = 3 * 60 / SeriesForecast.STEP_MINUTES;

  /** A course that moves less than this is called steady, K. */
  private static final double STEADY_K = 1;

  private ForecastAnswer() {}

  /**
   * A forecast, or why there is none.
   *
   * @param at the time asked for
   * @param noted what the reading of the history has to tell
   */
  public static Answer of(RoomAnswer answer, Instant at, ZoneId zone, List<Warning> noted) {
    return of(answer, at, zone, RoomForecaster.LONGEST, noted);
  }

  /**
   * The same, of which only the beginning is told.
   *
   * @param shown how much of it, ten minutes or more
   */
  public static Answer of(
      RoomAnswer answer, Instant at, ZoneId zone, Duration shown, List<Warning> noted) {
    if (answer instanceof RoomForecast forecast) {
      Duration told = shown.compareTo(forecast.length()) < 0 ? shown : forecast.length();
      return of(forecast, zone, told, noted);
    }
    NoForecast unknown = (NoForecast) answer;
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("at", at.toString());
    json.put("words", String.join(" ", unknown.refused().stream().map(r -> r.reason()).toList()));
    Answer.outcome(json, unknown.refused(), noted);
    return new Answer(json, unknown.refused().stream().map(r -> r.reason()).toList(), true);
  }

  private static Answer of(
      RoomForecast forecast, ZoneId zone, Duration shown, List<Warning> noted) {
    int steps = (int) (shown.toMinutes() / SeriesForecast.STEP_MINUTES);
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("at", forecast.at().toString());
    json.put("zone", zone.getId());
    json.put("hours", shown.toMinutes() / 60.0);
    json.put("newestReadingMinutes", forecast.newestReadingAge().toSeconds() / 60.0);
    points(json, "points", forecast.air(), steps);
    forecast.mold().ifPresent(mold -> points(json, "mold", mold, steps));
    forecast.humidity().ifPresent(humidity -> points(json, "humidity", humidity, steps));
    skill(json.putObject("skill"), forecast.skill());
    ArrayNode changes = json.putArray("changes");
    for (RoomChange change : forecast.changes()) {
      changes
          .addObject()
          .put("time", change.time().toString())
          .put("stepK", change.stepK())
          .put("words", change.words());
    }
    List<String> words = words(forecast, zone);
    json.put("words", String.join(" ", words));
    Answer.outcome(json, List.of(), noted);
    List<String> lines = new ArrayList<>(words);
    lines.addAll(table(forecast, zone, steps));
    noted.forEach(warning -> lines.add("Note: " + warning.reason()));
    return new Answer(json, lines, false);
  }

  private static void points(ObjectNode json, String name, SeriesForecast course, int steps) {
    ArrayNode list = json.putArray(name);
    for (ForecastPoint point : course.points().subList(0, steps)) {
      list.addObject()
          .put("time", point.time().toString())
          .put("p10", told(point.p10()))
          .put("p50", told(point.p50()))
          .put("p90", told(point.p90()));
    }
  }

  /**
   * To a hundredth, which is finer than any sensor: a page that asks for three days stays light.
   */
  private static double told(double value) {
    return Math.round(value * 100) / 100.0;
  }

  private static void skill(ObjectNode json, RoomSkill skill) {
    json.put("nights", skill.nights());
    if (skill.nights() > 0) {
      json.put("overnightErrorK", skill.overnightErrorK());
    } else {
      json.putNull("overnightErrorK");
    }
    json.put("words", skill.words());
  }

  /** The sentences: what the next day brings, how good forecasts were here, what has changed. */
  static List<String> words(RoomForecast forecast, ZoneId zone) {
    List<String> words = new ArrayList<>();
    words.add(nextDay("Air", forecast.air(), zone));
    forecast.mold().ifPresent(mold -> words.add(nextDay("Mold", mold, zone)));
    words.add(forecast.skill().words());
    words.addAll(changes(forecast.changes(), forecast.at(), zone));
    if (forecast.newestReadingAge().compareTo(STALE) > 0) {
      words.add(
          "The newest reading is "
              + CureJson.span(forecast.newestReadingAge().toSeconds() / 60.0)
              + " old.");
    }
    return words;
  }

  /** A room that jumps often has a heater or a door by habit; that is told once. */
  private static List<String> changes(List<RoomChange> changes, Instant now, ZoneId zone) {
    if (changes.size() > FEW) {
      RoomChange newest = changes.get(changes.size() - 1);
      return List.of(
          "The temperature jumped %d times in three days, last %s by %s. Is a heater or a door operated by hand? The forecast allows for it."
              .formatted(
                  changes.size(),
                  ClockTimes.about(newest.time(), now, zone),
                  Words.celsiusDifference(Math.abs(newest.stepK()))));
    }
    return changes.stream()
        .map(change -> ClockTimes.about(change.time(), now, zone) + ": " + change.words())
        .toList();
  }

  /** One sentence on where a temperature goes within a day. */
  static String nextDay(String what, SeriesForecast course, ZoneId zone) {
    int steps =
        (int) Math.min(course.points().size(), FIRST_DAY.toMinutes() / SeriesForecast.STEP_MINUTES);
    List<ForecastPoint> day = course.points().subList(0, steps);
    ForecastPoint lowest =
        day.stream().min(Comparator.comparingDouble(ForecastPoint::p50)).orElseThrow();
    ForecastPoint highest =
        day.stream().max(Comparator.comparingDouble(ForecastPoint::p50)).orElseThrow();
    if (highest.p50() - lowest.p50() < STEADY_K) {
      return "%s stays near %s.".formatted(what, Words.celsius(day.get(0).p50()));
    }
    double now = day.get(0).p50();
    boolean dips = now - lowest.p50() >= highest.p50() - now;
    ForecastPoint far = dips ? lowest : highest;
    return "%s %s %s about %s (%s to %s)."
        .formatted(
            what,
            dips ? "dips to" : "rises to",
            Words.celsius(far.p50()),
            ClockTimes.about(far.time(), day.get(0).time(), zone),
            Words.number(far.p10(), 1),
            Words.celsius(far.p90()));
  }

  private static List<String> table(RoomForecast forecast, ZoneId zone, int steps) {
    List<String> lines = new ArrayList<>();
    boolean mold = forecast.mold().isPresent();
    boolean humidity = forecast.humidity().isPresent();
    lines.add(
        "  %-16s %-22s%s%s"
            .formatted(
                zone.getId(),
                "air °C",
                mold ? " %-22s".formatted("mold °C") : "",
                humidity ? " humidity %" : ""));
    for (int i = ROW_STEPS - 1; i < steps; i += ROW_STEPS) {
      int row = i;
      lines.add(
          "  %-16s %s%s%s"
              .formatted(
                  ClockTimes.at(forecast.air().points().get(i).time(), forecast.at(), zone),
                  cell(forecast.air(), i, 1),
                  forecast.mold().map(course -> " " + cell(course, row, 1)).orElse(""),
                  forecast.humidity().map(course -> " " + cell(course, row, 0)).orElse(""))
              .stripTrailing());
    }
    lines.add("Four times in five, the room stays between the two figures in parentheses.");
    return lines;
  }

  private static String cell(SeriesForecast course, int index, int decimals) {
    ForecastPoint point = course.points().get(index);
    String text =
        "%s (%s to %s)"
            .formatted(
                Words.number(point.p50(), decimals),
                Words.number(point.p10(), decimals),
                Words.number(point.p90(), decimals));
    return "%-22s".formatted(text);
  }
}
