package org.layroom.predictor.limits;

/**
 * Something to know before going on: a number is given all the same.
 *
 * @param field the name of what was asked or measured, as in the answers' JSON
 * @param value what was given, with its unit
 * @param limit the limit that it passed, with its unit
 * @param reason one sentence: what is wrong and what to do
 */
public record Warning(String field, String value, String limit, String reason) {
  public Warning {
    requireWords(field, reason);
  }

  static void requireWords(String field, String reason) {
    if (field.isBlank() || reason.isBlank()) {
      throw new IllegalArgumentException("a field name and a reason in words are needed");
    }
  }
}
