package org.layroom.predictor.verdict;

/**
 * One reason of a verdict.
 *
 * @param about {@code warm}, {@code dry}, {@code air} or {@code material}
 * @param state what it says
 * @param words one or two sentences: the value, the limit, what to do
 */
public record Reason(String about, Finding state, String words) {}
