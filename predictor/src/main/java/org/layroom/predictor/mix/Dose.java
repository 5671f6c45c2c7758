package org.layroom.predictor.mix;

import java.util.OptionalDouble;

/**
 * A dose after rounding to what the syringe shows, on both bases.
 *
 * @param doseByWeightPct % of the material's weight
 * @param catalystGrams for all cups together, g
 * @param catalystMl for all cups together, ml; empty when the bottle's density is unknown
 * @param mlPer100Ml ml of catalyst for 100 ml of material
 * @param mlPerKg ml of catalyst for a kilogram of material
 * @param materialGrams g
 * @param materialMl ml
 * @param unroundedPct the dose before rounding, % by weight
 * @param roundingMinutes by how much rounding moved the likely gel time, minutes, either sign
 */
public record Dose(
    double doseByWeightPct,
    double catalystGrams,
    OptionalDouble catalystMl,
    OptionalDouble mlPer100Ml,
    OptionalDouble mlPerKg,
    double materialGrams,
    double materialMl,
    double unroundedPct,
    double roundingMinutes) {}
