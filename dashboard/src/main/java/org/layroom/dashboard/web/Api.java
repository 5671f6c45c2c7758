package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.regex.Pattern;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.answer.FumesFields;
import org.layroom.dashboard.answer.MixFields;
import org.layroom.dashboard.answer.PlanQuestion;
import org.layroom.dashboard.answer.RoomAnswers;
import org.layroom.dashboard.material.MaterialFile;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.dashboard.recording.IsoTimes;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.material.InvalidMaterial;

/** What each path of the API answers, with every parameter checked. */
final class Api {
  private static final Pattern SERIES =
      Pattern.compile("[a-z0-9][a-z0-9-]{0,31}(/[a-z0-9-]{1,32})?");
  private static final int USUAL_POINTS = 500;
  private static final int MOST_POINTS = 5000;
  private static final Duration LONGEST = Duration.ofDays(20 * 366L);

  private static final String FAN_ON = "fan-on";

  private final RoomAnswers answers;

  Api(RoomAnswers answers) {
    this.answers = answers;
  }

  JsonNode room(HttpServerExchange exchange) {
    return answers.picture(roomName(exchange), material(exchange));
  }

  JsonNode check(HttpServerExchange exchange) {
    return answers.check(roomName(exchange), material(exchange));
  }

  /** A check for a material that is not on the shelf: the body is its file. */
  Exchanges.Reply check(HttpServerExchange exchange, ObjectNode body) {
    return Exchanges.Reply.ok(answers.check(roomName(exchange), material(body)));
  }

  JsonNode mix(HttpServerExchange exchange) {
    return mix(exchange, material(exchange));
  }

  /** A mix of a material that is not on the shelf: the body is its file. */
  Exchanges.Reply mix(HttpServerExchange exchange, ObjectNode body) {
    return Exchanges.Reply.ok(mix(exchange, material(body)));
  }

  private JsonNode mix(HttpServerExchange exchange, MaterialShelf.Entry material) {
    boolean fanOn = Exchanges.parameter(exchange, FAN_ON).filter("true"::equals).isPresent();
    Set<String> names = new HashSet<>(MixFields.NAMES);
    names.add(FAN_ON);
    Map<String, List<String>> fields = fields(exchange, names);
    fields.remove(FAN_ON);
    Answer answer = answers.mix(roomName(exchange), material, fields, fanOn);
    if (!answer.json().has("material")) {
      throw Problem.badFields(answer.json().path("refused"));
    }
    return answer.json();
  }

  JsonNode fumes(HttpServerExchange exchange) {
    Answer answer =
        answers.fumes(roomName(exchange), material(exchange), fields(exchange, FumesFields.NAMES));
    if (answer.refused()) {
      throw Problem.badFields(answer.json().path("refused"));
    }
    return answer.json();
  }

  JsonNode forecast(HttpServerExchange exchange) {
    String text = Exchanges.parameter(exchange, "hours").orElse("72");
    double hours;
    try {
      hours = Double.parseDouble(text);
    } catch (NumberFormatException e) {
      hours = Double.NaN;
    }
    if (!(hours >= 1 && hours <= 72)) {
      throw Problem.badField("hours", text, "hours from 1 to 72");
    }
    return answers.forecast(roomName(exchange), Duration.ofMinutes(Math.round(60 * hours))).json();
  }

  JsonNode plan(HttpServerExchange exchange) {
    Deque<String> ids = exchange.getQueryParameters().get("material");
    List<MaterialShelf.Entry> materials =
        ids == null ? List.of(material(exchange)) : ids.stream().map(this::materialNamed).toList();
    Answer answer =
        answers.plan(roomName(exchange), materials, fields(exchange, PlanQuestion.NAMES));
    if (answer.refused() && !answer.json().has("at")) {
      throw Problem.badFields(answer.json().path("refused"));
    }
    return answer.json();
  }

  /** The request's fields of this list; any other but room and material is refused. */
  private static Map<String, List<String>> fields(HttpServerExchange exchange, Set<String> names) {
    Map<String, List<String>> fields = new LinkedHashMap<>();
    exchange
        .getQueryParameters()
        .forEach(
            (name, values) -> {
              if (names.contains(name)) {
                fields.put(name, List.copyOf(values));
              } else if (!name.equals("room") && !name.equals("material")) {
                throw Problem.badField(name, "", "unknown field");
              }
            });
    return fields;
  }

  /** The room that is meant when none is named. */
  String chosenRoom() {
    return answers.place().room().value();
  }

  /** Id of the material that is meant when none is named. */
  String chosenMaterial() {
    return answers.place().material();
  }

  JsonNode history(HttpServerExchange exchange) {
    String series =
        Exchanges.parameter(exchange, "series")
            .orElseThrow(() -> Problem.badField("series", "", "name one, for example temperature"));
    if (!SERIES.matcher(series).matches()) {
      throw Problem.badField("series", series, "name one, for example temperature");
    }
    Instant from = time(exchange, "from");
    Instant to = time(exchange, "to");
    if (!from.isBefore(to) || Duration.between(from, to).compareTo(LONGEST) > 0) {
      throw Problem.badField("to", to.toString(), "must come after from, 20 years at most");
    }
    return answers.history(
        roomName(exchange),
        series,
        from,
        to,
        Exchanges.whole(exchange, "points", USUAL_POINTS, MOST_POINTS));
  }

  JsonNode health(HttpServerExchange exchange) {
    return JsonNodeFactory.instance.objectNode().put("state", "up");
  }

  RoomName roomName(HttpServerExchange exchange) {
    return room(
        "room", Exchanges.parameter(exchange, "room").orElse(answers.place().room().value()));
  }

  /** The room that a parameter names. */
  RoomName room(String parameter, String name) {
    RoomName room;
    try {
      room = RoomName.of(name);
    } catch (IllegalArgumentException e) {
      throw Problem.badField(parameter, name, String.valueOf(e.getMessage()));
    }
    if (!answers.rooms().contains(room)) {
      throw Problem.notFound(
          parameter, name, "unknown room: no device is heard from there; /api/rooms lists all");
    }
    return room;
  }

  MaterialShelf.Entry material(HttpServerExchange exchange) {
    return materialNamed(
        Exchanges.parameter(exchange, "material").orElse(answers.place().material()));
  }

  private static MaterialShelf.Entry material(ObjectNode file) {
    try {
      return new MaterialShelf.Entry(MaterialFile.read(Exchanges.bytes(file)), false);
    } catch (InvalidMaterial e) {
      throw Problem.badFields(
          e.problems().stream()
              .map(p -> new Refusal(p.field(), p.value(), p.limit(), p.reason()))
              .toList());
    }
  }

  ObjectNode picture(RoomName room, MaterialShelf.Entry material) {
    return answers.picture(room, material);
  }

  MaterialShelf.Entry materialNamed(String id) {
    return answers
        .shelf()
        .find(id)
        .orElseThrow(
            () ->
                Problem.badField(
                    "material",
                    id,
                    "unknown material; use one of " + String.join(", ", answers.shelf().ids())));
  }

  private static Instant time(HttpServerExchange exchange, String name) {
    return optionalTime(exchange, name)
        .orElseThrow(
            () -> Problem.badField(name, "", "enter an ISO 8601 time such as 2026-03-01T18:30Z"));
  }

  /** A time, or the start of a day, in UTC where it has no offset. */
  static Optional<Instant> optionalTime(HttpServerExchange exchange, String name) {
    return optional(exchange, name, text -> IsoTimes.start(text, ZoneOffset.UTC));
  }

  /** A time, or the end of a day, in UTC where it has no offset. */
  static Optional<Instant> optionalEnd(HttpServerExchange exchange, String name) {
    return optional(exchange, name, text -> IsoTimes.end(text, ZoneOffset.UTC));
  }

  private static Optional<Instant> optional(
      HttpServerExchange exchange, String name, Function<String, Instant> reading) {
    Optional<String> text = Exchanges.parameter(exchange, name);
    try {
      return text.map(reading);
    } catch (IllegalArgumentException e) {
      throw Problem.badField(name, text.orElse(""), String.valueOf(e.getMessage()));
    }
  }
}
