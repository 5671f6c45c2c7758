package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import java.io.IOException;
import java.util.List;
import java.util.regex.Pattern;
import org.layroom.dashboard.answer.MaterialAnswers;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.material.InvalidMaterial;
import org.tinylog.Logger;

/** Materials over HTTP: the shelf, one can with its gel tests, and what changes them. */
final class MaterialApi {
  private static final Pattern ID = Pattern.compile("[A-Za-z0-9-]{8,100}");

  private final Api api;
  private final MaterialAnswers cans;
  private final MaterialShelf shelf;

  MaterialApi(Api api, MaterialAnswers cans, MaterialShelf shelf) {
    this.api = api;
    this.cans = cans;
    this.shelf = shelf;
  }

  JsonNode list(HttpServerExchange exchange) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("chosen", api.chosenMaterial());
    ArrayNode list = json.putArray("materials");
    for (MaterialShelf.Entry entry : shelf.all()) {
      list.addObject()
          .put("id", entry.material().id())
          .put("name", entry.material().name())
          .put("kind", entry.material().kind().id())
          .put("typical", entry.preset())
          .put("catalystDensityKgPerL", entry.material().catalystDensityKgPerLOrTypical())
          .put("label", entry.label());
    }
    return json;
  }

  JsonNode can(HttpServerExchange exchange) {
    return cans.can(api.material(exchange));
  }

  Exchanges.Reply keep(HttpServerExchange exchange, ObjectNode body) {
    try {
      return new Exchanges.Reply(201, cans.keep(Exchanges.bytes(body)));
    } catch (InvalidMaterial e) {
      throw Problem.badFields(
          e.problems().stream()
              .map(p -> new Refusal(p.field(), p.value(), p.limit(), p.reason()))
              .toList());
    } catch (IOException e) {
      Logger.error(e, "A material cannot be saved");
      throw Problem.of(507, "The material could not be saved: " + e.getMessage());
    }
  }

  Exchanges.Reply change(HttpServerExchange exchange, ObjectNode body) {
    MaterialShelf.Entry material = api.material(exchange);
    String id = body.path("id").asText("");
    if (!ID.matcher(id).matches()) {
      throw Problem.badField("id", id, "8 to 100 letters, digits or dashes, made by the page");
    }
    switch (body.path("type").asText("")) {
      case "gel-test" -> {
        List<Refusal> refused = cans.test(material, id, body);
        if (!refused.isEmpty()) {
          throw Problem.badFields(refused);
        }
      }
      case "confirm-test" -> cans.confirm(material, body.path("test").asText(""));
      case "drop-test" -> cans.drop(material, body.path("test").asText(""));
      case "start-anew" -> cans.startAnew(material, id);
      case "remove" -> remove(material);
      default ->
          throw Problem.badField(
              "type",
              body.path("type").asText(""),
              "must be one of gel-test, confirm-test, drop-test, start-anew, remove");
    }
    return Exchanges.Reply.ok(
        shelf.find(material.material().id()).map(cans::can).orElseGet(() -> cans.can(material)));
  }

  private void remove(MaterialShelf.Entry material) {
    try {
      if (!cans.remove(material)) {
        throw Problem.of(409, "This is a built-in material; it cannot be archived.");
      }
    } catch (IOException e) {
      throw Problem.of(507, "The material could not be archived: " + e.getMessage());
    }
  }
}
