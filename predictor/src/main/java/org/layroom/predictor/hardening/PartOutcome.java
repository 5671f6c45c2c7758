package org.layroom.predictor.hardening;

/**
 * What became of a part of one can.
 *
 * @param can which can it was laid up with: any name that is the same for the same can
 * @param expected what was believed of this part before anything was learned, at its own dose and
 *     thickness
 * @param outcome what was found
 */
public record PartOutcome(String can, PriorHours expected, Outcome outcome) {}
