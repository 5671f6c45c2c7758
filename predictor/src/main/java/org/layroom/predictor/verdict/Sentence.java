package org.layroom.predictor.verdict;

/**
 * One of the three lines that a person reads from across the room.
 *
 * @param about {@code warm}, {@code dry} or {@code air}
 * @param state what it says
 * @param words big words first, then numbers with units
 */
public record Sentence(String about, Finding state, String words) {}
