package org.layroom.predictor.calibration;

/**
 * The gel test that would narrow the band most.
 *
 * @param where cup or thin layer
 * @param temperatureC where to hold it, degC
 * @param doseByWeightPct with which dose, % by weight
 * @param bandFactorNow latest over likely as believed now
 * @param bandFactorAfter the same after such a test
 * @param words one sentence
 */
public record SuggestedGelTest(
    GelTest.Where where,
    double temperatureC,
    double doseByWeightPct,
    double bandFactorNow,
    double bandFactorAfter,
    String words) {}
