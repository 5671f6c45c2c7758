package org.layroom.predictor.mix;

import java.util.OptionalDouble;

/**
 * One cup, in the order in which they are mixed.
 *
 * @param number from 1
 * @param materialGrams resin or gel coat, g
 * @param materialMl the same in ml
 * @param catalystGrams catalyst, g
 * @param catalystMl the same in ml as the syringe shows it; empty when the bottle's density is
 *     unknown
 * @param mixAtMinutes when to mix it, minutes after the first: not before the one before is used up
 * @param useUpByMinutes when to stop with it at the earliest, minutes after the first was mixed
 */
public record Cup(
    int number,
    double materialGrams,
    double materialMl,
    double catalystGrams,
    OptionalDouble catalystMl,
    double mixAtMinutes,
    double useUpByMinutes) {}
