package org.layroom.predictor.material;

/**
 * One thing that is wrong with a material file.
 *
 * @param field the field's name in the file, as {@code gel.minutes}
 * @param value what the file says, or {@code missing}
 * @param limit what is allowed, with its unit
 * @param reason one sentence: what is wrong and what to change
 */
public record MaterialProblem(String field, String value, String limit, String reason) {}
