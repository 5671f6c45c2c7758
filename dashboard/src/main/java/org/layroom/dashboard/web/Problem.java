package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.predictor.limits.Refusal;

/**
 * A request that cannot be answered, as {@code application/problem+json} (RFC 9457).
 *
 * <p>Thrown by the API's handlers, written by {@link Exchanges}.
 */
final class Problem extends RuntimeException {
  static final String MEDIA_TYPE = "application/problem+json";

  private static final String BAD_VALUES = "The request has an invalid value.";
  private static final String NOT_THERE = "There is nothing of that name.";

  private final int status;
  private final List<FieldError> errors;
  private final transient ObjectNode more = JsonNodeFactory.instance.objectNode();

  /**
   * One value of the request that is not right.
   *
   * @param reason what to change, in words
   */
  record FieldError(String field, String value, String reason) {}

  private Problem(int status, String title, List<FieldError> errors) {
    super(title);
    this.status = status;
    this.errors = List.copyOf(errors);
  }

  static Problem badField(String field, String value, String reason) {
    return new Problem(400, BAD_VALUES, List.of(new FieldError(field, value, reason)));
  }

  /** What a field names is not there. */
  static Problem notFound(String field, String value, String reason) {
    return new Problem(404, NOT_THERE, List.of(new FieldError(field, value, reason)));
  }

  /** Fields that were refused, each with field, value and reason. */
  static Problem badFields(JsonNode refused) {
    List<FieldError> errors = new ArrayList<>();
    refused.forEach(
        r ->
            errors.add(
                new FieldError(
                    r.path("field").asText(),
                    r.path("value").asText(),
                    r.path("reason").asText())));
    return new Problem(400, BAD_VALUES, errors);
  }

  /** Fields that were refused by the predictor's or a job's own rules. */
  static Problem badFields(List<Refusal> refused) {
    return new Problem(
        400,
        BAD_VALUES,
        refused.stream().map(r -> new FieldError(r.field(), r.value(), r.reason())).toList());
  }

  static Problem of(int status, String title) {
    return new Problem(status, title, List.of());
  }

  /** With something to look at beside it. */
  Problem with(String name, Optional<ObjectNode> shown) {
    shown.ifPresent(node -> more.set(name, node));
    return this;
  }

  int status() {
    return status;
  }

  ObjectNode json() {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("type", "about:blank").put("title", getMessage()).put("status", status);
    var list = node.putArray("errors");
    for (FieldError error : errors) {
      list.addObject()
          .put("field", error.field())
          .put("value", error.value())
          .put("reason", error.reason());
    }
    node.setAll(more);
    return node;
  }
}
