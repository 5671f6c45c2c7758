package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.layroom.predictor.cure.Band;
import org.layroom.predictor.cure.StageTime;

/** Bands and stages as JSON and in words, the same in every answer. */
final class CureJson {
  /** A stage that is not reached at the temperatures ahead, however long one waits (60 days). */
  static final String ONCE_WARMED = "once warmed";

  /** A stage that was not reached in a recording. */
  static final String NOT_YET = "not yet";

  private CureJson() {}

  static void band(ObjectNode parent, String name, Band band) {
    ObjectNode node = parent.putObject(name);
    put(node, "p10", band.p10());
    put(node, "p50", band.p50());
    put(node, "p90", band.p90());
  }

  /** A time that is not reached within what was looked at is null. */
  private static void put(ObjectNode node, String name, double value) {
    if (Double.isFinite(value)) {
      node.put(name, value);
    } else {
      node.putNull(name);
    }
  }

  static void stages(ObjectNode json, List<StageTime> stages) {
    ArrayNode list = json.putArray("stages");
    for (StageTime stage : stages) {
      ObjectNode node = list.addObject();
      node.put("stage", stage.stage().id()).put("name", stage.stage().words());
      band(node, "fromMinutes", stage.fromMinutes());
      stage.untilMinutes().ifPresent(until -> band(node, "untilMinutes", until));
      node.put("words", stage.words());
    }
  }

  /**
   * A table of stages, earliest, likely and latest after mixing.
   *
   * @param never what to say of a time that is not reached
   */
  static List<String> table(List<StageTime> stages, String never) {
    List<String> lines = new ArrayList<>();
    lines.add("  %-20s %10s %10s %10s".formatted("after mixing", "earliest", "likely", "latest"));
    for (StageTime stage : stages) {
      Band from = stage.fromMinutes();
      lines.add(
          "  %-20s %10s %10s %10s"
              .formatted(
                  stage.stage().words(),
                  span(from.p10(), never),
                  span(from.p50(), never),
                  span(from.p90(), never)));
    }
    return lines;
  }

  private static String span(double minutes, String never) {
    return Double.isFinite(minutes) ? span(minutes) : never;
  }

  /** Finite minutes as a person says them. */
  static String span(double minutes) {
    if (minutes < 10) {
      return String.format(Locale.ROOT, "%.1f min", minutes);
    }
    if (minutes < 120) {
      return String.format(Locale.ROOT, "%.0f min", minutes);
    }
    if (minutes < 48 * 60) {
      return String.format(Locale.ROOT, "%.1f h", minutes / 60);
    }
    return String.format(Locale.ROOT, "%.1f days", minutes / 1440);
  }
}
