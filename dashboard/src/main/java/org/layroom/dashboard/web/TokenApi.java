package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import java.util.List;
import java.util.function.Supplier;
import org.layroom.dashboard.access.Role;
import org.layroom.dashboard.answer.AccessAnswers;

/** Tokens for programs: made, listed and revoked on this machine alone. */
final class TokenApi {
  private final AccessAnswers answers;
  private final Supplier<List<String>> places;

  TokenApi(AccessAnswers answers, Supplier<List<String>> places) {
    this.answers = answers;
    this.places = places;
  }

  JsonNode list(HttpServerExchange exchange) {
    LocalOnly.require(exchange);
    return answers.tokens();
  }

  /** {@code {"action":"make","name":"spreadsheet","role":"read-only"}}, or {@code revoke}. */
  Exchanges.Reply change(HttpServerExchange exchange, ObjectNode body) {
    LocalOnly.require(exchange);
    String action = body.path("action").asText("");
    String name = body.path("name").asText("");
    return switch (action) {
      case "make" -> AccessApi.kept(() -> made(name, role(body)));
      case "revoke" ->
          AccessApi.kept(
              () ->
                  Exchanges.Reply.ok(
                      answers
                          .revokeToken(name)
                          .orElseThrow(
                              () ->
                                  Problem.badField("name", name, "no token has this name or id"))));
      default -> throw Problem.badField("action", action, "must be make or revoke");
    };
  }

  private static Role role(ObjectNode body) {
    String role = body.path("role").asText("");
    return Role.of(role)
        .orElseThrow(() -> Problem.badField("role", role, "must be full, read-only or calendar"));
  }

  private Exchanges.Reply made(String name, Role role) {
    try {
      return new Exchanges.Reply(
          201,
          answers
              .token(name, role, places.get())
              .orElseThrow(
                  () -> Problem.of(409, "The limit of tokens is reached. Revoke one first.")));
    } catch (IllegalArgumentException e) {
      throw Problem.badField("name", name, String.valueOf(e.getMessage()));
    }
  }
}
