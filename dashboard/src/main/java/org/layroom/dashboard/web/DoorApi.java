package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import io.undertow.util.Headers;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.function.Supplier;
import org.layroom.dashboard.answer.DoorAnswers;
import org.layroom.dashboard.door.Entry;
import org.layroom.dashboard.door.Role;
import org.layroom.dashboard.door.Visitor;
import org.tinylog.Logger;

/** Pairing of people's devices: codes made here, typed elsewhere; who is paired, and their end. */
final class DoorApi {
  private static final int LONGEST_CODE = 40;

  private final DoorAnswers answers;
  private final Supplier<List<String>> places;

  DoorApi(DoorAnswers answers, Supplier<List<String>> places) {
    this.answers = answers;
    this.places = places;
  }

  JsonNode state(HttpServerExchange exchange) {
    return answers.state(HouseDoor.visitor(exchange), places.get());
  }

  /** {@code {"action":"code","role":"full"}}, {@code withdraw}, or {@code revoke} with an id. */
  Exchanges.Reply change(HttpServerExchange exchange, ObjectNode body) {
    ThisMachine.require(exchange);
    String action = body.path("action").asText("");
    return switch (action) {
      case "code" -> new Exchanges.Reply(201, answers.open(role(body), places.get()));
      case "withdraw" -> Exchanges.Reply.ok(answers.withdraw(places.get()));
      case "revoke" -> revoked(body.path("id").asText(""));
      default -> throw Problem.badField("action", action, "must be code, withdraw or revoke");
    };
  }

  private static Role role(ObjectNode body) {
    String role = body.path("role").asText("");
    return Role.of(role)
        .orElseThrow(() -> Problem.badField("role", role, "must be full or read-only"));
  }

  private Exchanges.Reply revoked(String id) {
    return kept(
        () ->
            Exchanges.Reply.ok(
                answers
                    .revoke(id, places.get())
                    .orElseThrow(() -> Problem.badField("id", id, "nobody is paired by this id"))));
  }

  /** {@code {"code":"abcd-2345","name":"old tablet"}} from elsewhere. */
  Exchanges.Reply pair(HttpServerExchange exchange, ObjectNode body) {
    String code = body.path("code").asText("");
    if (code.isBlank() || code.length() > LONGEST_CODE) {
      throw Problem.badField("code", "", "type the code that is shown at the dashboard");
    }
    Entry entry = kept(() -> tried(code, body.path("name").asText("")));
    if (entry instanceof Entry.LetIn in) {
      endBefore(HouseDoor.visitor(exchange));
      SessionCookie.give(exchange, in.token());
      return new Exchanges.Reply(201, answers.state(new Visitor.Paired(in.session()), List.of()));
    }
    if (entry instanceof Entry.TooMany many) {
      long seconds = many.pause().toSeconds() + 1;
      exchange.getResponseHeaders().put(Headers.RETRY_AFTER, seconds);
      throw Problem.of(429, "Too many codes were tried. Wait " + seconds + " s, then try again.");
    }
    if (entry instanceof Entry.Full full) {
      throw Problem.of(
          409, "As many as " + full.most() + " devices are paired. Revoke one at the dashboard.");
    }
    throw Problem.of(
        403,
        "This code does not open. Look at it again; a code holds for ten minutes, for one device and"
            + " five tries.");
  }

  private Entry tried(String code, String name) {
    try {
      return answers.door().pair(code, name);
    } catch (IllegalArgumentException e) {
      throw Problem.badField("name", "", String.valueOf(e.getMessage()));
    }
  }

  private void endBefore(Visitor visitor) {
    if (visitor instanceof Visitor.Paired paired) {
      answers.door().revoke(paired.session().id());
    }
  }

  /** Whoever is paired goes. */
  Exchanges.Reply leave(HttpServerExchange exchange, ObjectNode body) {
    kept(
        () -> {
          endBefore(HouseDoor.visitor(exchange));
          return true;
        });
    SessionCookie.takeAway(exchange);
    return Exchanges.Reply.ok(JsonNodeFactory.instance.objectNode().put("you", "stranger"));
  }

  private static <T> T kept(Supplier<T> work) {
    try {
      return work.get();
    } catch (UncheckedIOException e) {
      Logger.error(e, "The paired devices cannot be written down");
      throw Problem.of(507, "This could not be written down: is the disk full? Nothing changed.");
    }
  }
}
