package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import io.undertow.util.Headers;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.function.Supplier;
import org.layroom.dashboard.access.Caller;
import org.layroom.dashboard.access.PairingAttempt;
import org.layroom.dashboard.access.Role;
import org.layroom.dashboard.answer.AccessAnswers;
import org.tinylog.Logger;

/** Pairing of people's devices: codes made here, typed elsewhere; who is paired, and their end. */
final class AccessApi {
  private static final int LONGEST_CODE = 40;

  private final AccessAnswers answers;
  private final Supplier<List<String>> places;
  private final SessionCookie cookie;

  AccessApi(AccessAnswers answers, Supplier<List<String>> places) {
    this.answers = answers;
    this.places = places;
    this.cookie = new SessionCookie(answers.door().cookieName());
  }

  JsonNode state(HttpServerExchange exchange) {
    return answers.state(AccessFilter.visitor(exchange), places.get());
  }

  /** {@code {"action":"code","role":"full"}}, {@code withdraw}, or {@code revoke} with an id. */
  Exchanges.Reply change(HttpServerExchange exchange, ObjectNode body) {
    LocalOnly.require(exchange);
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
        .filter(one -> one != Role.CALENDAR)
        .orElseThrow(() -> Problem.badField("role", role, "must be full or read-only"));
  }

  private Exchanges.Reply revoked(String id) {
    return kept(
        () ->
            Exchanges.Reply.ok(
                answers
                    .revoke(id, places.get())
                    .orElseThrow(
                        () -> Problem.badField("id", id, "no device is paired under this id"))));
  }

  /** {@code {"code":"abcd-2345","name":"old tablet"}} from elsewhere. */
  Exchanges.Reply pair(HttpServerExchange exchange, ObjectNode body) {
    String code = body.path("code").asText("");
    if (code.isBlank() || code.length() > LONGEST_CODE) {
      throw Problem.badField("code", "", "enter the code that is shown at the dashboard");
    }
    PairingAttempt entry = kept(() -> tried(code, body.path("name").asText("")));
    if (entry instanceof PairingAttempt.LetIn in) {
      endBefore(AccessFilter.visitor(exchange));
      cookie.give(exchange, in.token());
      return new Exchanges.Reply(201, answers.state(new Caller.Paired(in.session()), List.of()));
    }
    if (entry instanceof PairingAttempt.TooMany many) {
      long seconds = many.pause().toSeconds() + 1;
      exchange.getResponseHeaders().put(Headers.RETRY_AFTER, seconds);
      throw Problem.of(429, "Too many codes were tried. Wait " + seconds + " s, then try again.");
    }
    if (entry instanceof PairingAttempt.Full full) {
      throw Problem.of(
          409,
          "The limit of "
              + full.most()
              + " paired devices is reached. Remove one at the"
              + " dashboard.");
    }
    throw Problem.of(
        403,
        "Wrong code. Check it and try again. A code is valid for ten minutes, one device and"
            + " five tries.");
  }

  private PairingAttempt tried(String code, String name) {
    try {
      return answers.door().pair(code, name);
    } catch (IllegalArgumentException e) {
      throw Problem.badField("name", "", String.valueOf(e.getMessage()));
    }
  }

  private void endBefore(Caller visitor) {
    if (visitor instanceof Caller.Paired paired) {
      answers.door().revoke(paired.session().id());
    }
  }

  /** Whoever is paired goes. */
  Exchanges.Reply leave(HttpServerExchange exchange, ObjectNode body) {
    kept(
        () -> {
          endBefore(AccessFilter.visitor(exchange));
          return true;
        });
    cookie.takeAway(exchange);
    return Exchanges.Reply.ok(JsonNodeFactory.instance.objectNode().put("you", "stranger"));
  }

  static <T> T kept(Supplier<T> work) {
    try {
      return work.get();
    } catch (UncheckedIOException e) {
      Logger.error(e, "Access cannot be saved");
      throw Problem.of(507, "This could not be saved. Is the disk full? Nothing changed.");
    }
  }
}
