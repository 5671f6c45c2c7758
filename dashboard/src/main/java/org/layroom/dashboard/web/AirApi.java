package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;
import java.util.function.UnaryOperator;
import java.util.regex.Pattern;
import org.layroom.dashboard.answer.AirAnswers;
import org.layroom.dashboard.decision.AirSettings;
import org.layroom.dashboard.recording.IsoTimes;
import org.layroom.dashboard.warning.CleanAirRun;
import org.layroom.dashboard.warning.VentilationHistory;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.exposure.ExposureLimit;

/** The air over HTTP: warnings, what is decided, the clean-air reading, how well the room airs. */
final class AirApi {
  private static final Pattern ID = Pattern.compile("[A-Za-z0-9-]{8,64}");
  private static final Set<String> DECISIONS =
      Set.of(
          "who",
          "mode",
          "limit",
          "eightHourPpm",
          "shortTermPpm",
          "styreneFactor",
          "volumeM3",
          "device",
          "houseSide");

  private final Api api;
  private final AirAnswers air;

  AirApi(Api api, AirAnswers air) {
    this.api = api;
    this.air = air;
  }

  JsonNode warnings(HttpServerExchange exchange) {
    return air.open(api.roomName(exchange));
  }

  /** Somebody has seen a warning: {@code {"id","warning","who"}}, with an id made by the page. */
  Exchanges.Reply acknowledge(HttpServerExchange exchange, ObjectNode body) {
    RoomName room = api.roomName(exchange);
    String warning = body.path("warning").asText("");
    String id = id(body);
    return switch (checked(() -> air.warnings().acknowledge(room, warning, id, who(body)))) {
      case KEPT -> new Exchanges.Reply(201, air.open(room));
      case SAID_BEFORE -> Exchanges.Reply.ok(air.open(room));
      case NOT_OPEN -> throw Problem.of(409, "The warning \"" + warning + "\" has ended.");
    };
  }

  /** Solvent is being wiped: {@code {"id","who"}}. */
  Exchanges.Reply wiping(HttpServerExchange exchange, ObjectNode body) {
    RoomName room = api.roomName(exchange);
    String id = id(body);
    return Exchanges.Reply.ok(checked(() -> air.wiping(room, id, who(body))));
  }

  JsonNode settings(HttpServerExchange exchange) {
    return air.settings(api.roomName(exchange));
  }

  /** Decides one or several things at once; each field is checked before any is taken. */
  Exchanges.Reply decide(HttpServerExchange exchange, ObjectNode body) {
    RoomName room = api.roomName(exchange);
    body.fieldNames()
        .forEachRemaining(
            name -> {
              if (!DECISIONS.contains(name)) {
                throw Problem.badField(name, "", "unknown field");
              }
            });
    UnaryOperator<AirSettings> change = before -> changed(before, body);
    checked(() -> air.warnings().decide(room, who(body), change));
    return Exchanges.Reply.ok(air.settings(room));
  }

  private static AirSettings changed(AirSettings before, ObjectNode body) {
    AirSettings next = before;
    if (body.has("mode")) {
      next = next.withMode(mode(body.path("mode").asText("")));
    }
    if (body.has("limit")) {
      next = next.withLimit(limit(body));
    }
    if (body.has("styreneFactor")) {
      next = next.withStyreneFactor(number(body, "styreneFactor"));
    }
    if (body.has("volumeM3")) {
      next = next.withVolumeM3(number(body, "volumeM3"));
    }
    if (body.has("device")) {
      next =
          next.withHouseSide(
              DeviceName.of(body.path("device").asText("")), flag(body, "houseSide"));
    }
    return next;
  }

  private static Mode mode(String text) {
    return switch (text) {
      case "chip" -> Mode.CHIP;
      case "pid" -> Mode.PID;
      default ->
          throw Problem.badField(
              "mode", text, "chip (metal-oxide sensor) or pid (photoionization detector)");
    };
  }

  private static ExposureLimit limit(ObjectNode body) {
    String id = body.path("limit").asText("");
    if (id.equals("own")) {
      return ExposureLimit.own(number(body, "eightHourPpm"), number(body, "shortTermPpm"));
    }
    return ExposureLimit.byId(id)
        .orElseThrow(
            () ->
                Problem.badField(
                    "limit",
                    id,
                    "own, or one of "
                        + String.join(
                            ", ", ExposureLimit.table().stream().map(ExposureLimit::id).toList())));
  }

  JsonNode cleanAir(HttpServerExchange exchange) {
    RoomName room = api.roomName(exchange);
    return checked(
        () -> air.cleanAir(room, Exchanges.parameter(exchange, "device").map(DeviceName::of)));
  }

  /** {@code {"action":"start",…}} begins; {@code {"action":"take",…}} takes the reading. */
  Exchanges.Reply cleanAir(HttpServerExchange exchange, ObjectNode body) {
    RoomName room = api.roomName(exchange);
    String action = body.path("action").asText("");
    return switch (action) {
      case "start" ->
          new Exchanges.Reply(
              201,
              checked(
                  () ->
                      air.beginCleanAir(
                          room,
                          device(body),
                          new CleanAirRun.Promised(
                              flag(body, "airedToOutdoors"),
                              flag(body, "noOpenResin"),
                              flag(body, "nothingCuring")))));
      case "take" -> taken(room, body);
      default -> throw Problem.badField("action", action, "start or take");
    };
  }

  private Exchanges.Reply taken(RoomName room, ObjectNode body) {
    boolean confirmed = body.has("confirm") && flag(body, "confirm");
    String id = id(body);
    Optional<ObjectNode> taken =
        checked(() -> air.takeCleanAir(room, device(body), who(body), id, confirmed));
    return taken
        .map(json -> new Exchanges.Reply(201, json))
        .orElseThrow(
            () ->
                Problem.of(
                    409,
                    "The clean-air reading cannot be taken yet. Follow the steps shown"
                        + " (\"layroom clean-air state\" prints them)."));
  }

  JsonNode airing(HttpServerExchange exchange) {
    return air.airing(api.roomName(exchange));
  }

  /** A fall between two times is worked out and kept, or a prediction compared. */
  Exchanges.Reply airing(HttpServerExchange exchange, ObjectNode body) {
    RoomName room = api.roomName(exchange);
    Instant from = time(body, "from");
    Instant to = time(body, "to");
    if (body.has("predictedMax15MinPpm")) {
      double predicted = number(body, "predictedMax15MinPpm");
      return Exchanges.Reply.ok(checked(() -> air.compare(room, from, to, predicted)));
    }
    String id = id(body);
    return new Exchanges.Reply(
        201,
        checked(
            () ->
                air.measure(
                    room,
                    new VentilationHistory.Question(
                        from,
                        to,
                        flag(body, "sourceStopped"),
                        flag(body, "leftAlone"),
                        body.path("setting").asText("")),
                    id)));
  }

  /** A complaint of the rooms below says first which field it is about. */
  static <T> T checked(Supplier<T> work) {
    try {
      return work.get();
    } catch (IllegalArgumentException e) {
      String words = String.valueOf(e.getMessage());
      String field = words.contains(":") ? words.substring(0, words.indexOf(':')) : "request";
      throw Problem.badField(field.contains(" ") ? "request" : field, "", words);
    }
  }

  static Optional<DeviceName> device(ObjectNode body) {
    return body.has("device")
        ? Optional.of(DeviceName.of(body.path("device").asText("")))
        : Optional.empty();
  }

  static String who(ObjectNode body) {
    return body.path("who").asText("");
  }

  static String id(ObjectNode body) {
    String id = body.path("id").asText("");
    if (!ID.matcher(id).matches()) {
      throw Problem.badField("id", id, "8 to 64 letters, digits or dashes, made by the page");
    }
    return id;
  }

  private static double number(ObjectNode body, String field) {
    JsonNode value = body.path(field);
    if (!value.isNumber()) {
      throw Problem.badField(field, value.toString(), "a number");
    }
    return value.doubleValue();
  }

  static boolean flag(ObjectNode body, String field) {
    JsonNode value = body.path(field);
    if (!value.isBoolean()) {
      throw Problem.badField(field, value.toString(), "true or false");
    }
    return value.booleanValue();
  }

  private static Instant time(ObjectNode body, String field) {
    String text = body.path(field).asText("");
    try {
      return IsoTimes.parse(text, ZoneOffset.UTC);
    } catch (IllegalArgumentException e) {
      throw Problem.badField(field, text, String.valueOf(e.getMessage()));
    }
  }
}
