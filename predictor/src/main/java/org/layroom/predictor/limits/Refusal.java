package org.layroom.predictor.limits;

/**
 * One reason why no number is given.
 *
 * @param field the name of what was asked or measured, as in the answers' JSON
 * @param value what was given, with its unit
 * @param limit the limit that it passed, with its unit
 * @param reason one sentence: what is wrong and what to do
 */
public record Refusal(String field, String value, String limit, String reason) {
  public Refusal {
    Warning.requireWords(field, reason);
  }
}
