package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Stream;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.dashboard.warning.RoomAir;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.verdict.State;

/**
 * Every room in one line, those that need somebody first: by what the air calls for, then by the
 * mix check, then by name. The mix check of a line is that of the last minute ({@link
 * VerdictPublisher} makes them all); the air is as of now. Nothing here wakes a room's forecast.
 */
public final class RoomLines {
  /** Lines of one answer. */
  public static final int MOST = 1000;

  private final RoomAnswers answers;
  private final AirAnswers air;
  private final Map<RoomName, JsonNode> checks = new ConcurrentHashMap<>();

  public RoomLines(RoomAnswers answers, AirAnswers air) {
    this.answers = answers;
    this.air = air;
  }

  /**
   * One room.
   *
   * @param check its mix check, as the API gives it
   */
  private record Line(RoomName room, JsonNode check, RoomAir air) {
    private static final Comparator<Line> WORST_FIRST =
        Comparator.comparing((Line line) -> line.air().call())
            .thenComparing(Line::verdict)
            .reversed()
            .thenComparing(line -> line.room().value());

    State verdict() {
      String id = check.path("verdict").asText();
      return Stream.of(State.values())
          .filter(state -> state.id().equals(id))
          .findFirst()
          .orElse(State.UNKNOWN);
    }

    ObjectNode json() {
      ObjectNode json = JsonNodeFactory.instance.objectNode();
      json.put("room", room.value());
      json.put("air", name(air.call()));
      json.put("warnings", air.warnings().size());
      air.warnings().stream()
          .findFirst()
          .ifPresent(
              worst ->
                  json.put("since", worst.since().toString()).put("whatToDo", worst.whatToDo()));
      json.put("verdict", verdict().id()).put("words", verdict().words());
      String why = check.at("/reasons/0/words").asText();
      if (verdict() != State.MIX && !why.isEmpty()) {
        json.put("why", why);
      }
      json.put("time", check.path("time").asText());
      return json;
    }
  }

  private static String name(AirCall call) {
    return call.name().toLowerCase(Locale.ROOT);
  }

  /** The call of a name as it stands in an answer. */
  public static Optional<AirCall> call(String name) {
    return Stream.of(AirCall.values()).filter(call -> name(call).equals(name)).findFirst();
  }

  /** The mix check of a room, as it was just worked out. */
  void checked(RoomName room, JsonNode check) {
    checks.put(room, check);
  }

  private Line line(RoomName room, MaterialShelf.Entry material) {
    return new Line(
        room,
        checks.computeIfAbsent(room, name -> answers.check(name, material)),
        air.warnings().air(room));
  }

  /**
   * The lines, the worst first.
   *
   * @param only rooms whose air calls for this
   * @param after the line after which to go on, as the order is now; from the beginning if empty
   * @param most 1 to {@link #MOST} lines
   */
  public ObjectNode list(Optional<AirCall> only, Optional<RoomName> after, int most) {
    MaterialShelf.Entry material = answers.shelf().find(answers.place().material()).orElseThrow();
    List<Line> all =
        answers.rooms().stream()
            .map(room -> line(room, material))
            .sorted(Line.WORST_FIRST)
            .toList();
    List<Line> chosen =
        all.stream().filter(line -> only.map(line.air().call()::equals).orElse(true)).toList();
    List<RoomName> names = chosen.stream().map(Line::room).toList();
    int from = after.map(names::indexOf).orElse(-1) + 1;
    int to = Math.min(chosen.size(), from + most);
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    ArrayNode lines = json.putArray("rooms");
    chosen.subList(from, to).forEach(line -> lines.add(line.json()));
    Map<AirCall, Integer> counts = new EnumMap<>(AirCall.class);
    all.forEach(line -> counts.merge(line.air().call(), 1, Integer::sum));
    ObjectNode counted = json.putObject("counts");
    for (AirCall call : AirCall.values()) {
      counted.put(name(call), counts.getOrDefault(call, 0));
    }
    if (to < chosen.size()) {
      json.put("next", names.get(to - 1).value());
    }
    return json;
  }
}
