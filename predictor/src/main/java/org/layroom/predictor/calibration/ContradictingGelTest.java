package org.layroom.predictor.calibration;

/**
 * A gel test that does not fit what the earlier ones said.
 *
 * @param test the newest test
 * @param expectedMinutes what was expected of it
 * @param words what it may mean and what to do
 */
public record ContradictingGelTest(GelTest test, double expectedMinutes, String words) {}
