package org.layroom.predictor.cure;

import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.material.Material;

/**
 * How a can goes on after gel. One number sets the exotherm and the trim window alike: the time of
 * the exotherm peak over the gel time, in a cup; data sheets print both times.
 *
 * @param peakToGel that ratio as the data sheet has it, 1.05 to 4; empty when it has not
 * @param ownHeat of a laminate that warms itself; empty for one that is thinner than 4 mm or of
 *     unknown thickness
 */
public record CureShape(OptionalDouble peakToGel, Optional<OwnHeat> ownHeat) {
  /**
   * When a laminate that warms itself can be trimmed and is hottest, in likely gel times of the cup
   * at the mold's temperature.
   *
   * @param leatheryGels when a knife cuts, above zero
   * @param peakGels when it is hottest, not before
   */
  public record OwnHeat(double leatheryGels, double peakGels) {
    public OwnHeat {
      if (!(leatheryGels > 0 && leatheryGels <= peakGels)) {
        throw new IllegalArgumentException(
            "trim at " + leatheryGels + " and peak at " + peakGels + " gel times");
      }
    }
  }

  /** Median of 1.2 to 2.6 (Polymers 2024, 16(17), 2391; data sheets). */
  static final double USUAL = StrictMath.sqrt(1.2 * 2.6);

  /** Spread of the logarithm when the data sheet has both times (chosen). */
  private static final double LN_KNOWN = 0.10;

  private static final double LEAST = 1.05;

  public CureShape {
    double ratio = peakToGel.orElse(USUAL);
    if (!(ratio >= LEAST && ratio <= 4)) {
      throw new IllegalArgumentException("peak over gel " + ratio + " must be between 1.05 and 4");
    }
  }

  /** Nothing is known of this can's peak, nor of the thickness. */
  public static CureShape usual() {
    return new CureShape(OptionalDouble.empty(), Optional.empty());
  }

  /** As the can's data sheet has it. */
  public static CureShape of(Material material) {
    return new CureShape(material.peakToGel(), Optional.empty());
  }

  /** For a laminate that warms itself, or not. */
  public CureShape warmed(Optional<OwnHeat> value) {
    return new CureShape(peakToGel, value);
  }

  /** Likely peak over gel in a cup. */
  public double likelyRatio() {
    return peakToGel.orElse(USUAL);
  }

  /** Spread of its logarithm. */
  public double lnSpread() {
    return peakToGel.isPresent() ? LN_KNOWN : PriorSpreads.LN_EXOTHERM;
  }

  /** Peak over gel, this many standard deviations from the likely one. */
  double ratio(double deviations) {
    return Math.max(LEAST, likelyRatio() * StrictMath.exp(lnSpread() * deviations));
  }

  /** When it gets hottest, in gel times of the cup. */
  double hottest(double deviations) {
    double ratio = ratio(deviations);
    return ownHeat.isPresent() ? ownHeat.get().peakGels() * ratio / likelyRatio() : ratio;
  }

  /**
   * When a knife cuts and does not drag, in gel times of the cup.
   *
   * @param film film gel over cup gel; a laminate's own heat makes up for it
   */
  double trimOpens(double deviations, double film) {
    double ratio = ratio(deviations);
    double opens = film * opens(ratio);
    return ownHeat.isPresent()
        ? Math.min(opens, ownHeat.get().leatheryGels() * ratio / likelyRatio())
        : opens;
  }

  /** When it is too hard for a knife, in gel times of the cup; arguments as for opening. */
  double trimCloses(double deviations, double film) {
    double closes = film * closes(ratio(deviations));
    return ownHeat.isPresent() ? Math.min(closes, hottest(deviations)) : closes;
  }

  /** In gel times of the film: conversion 0.25 of the kinetic model. */
  static double opens(double ratio) {
    return 1 + 0.7 * (ratio - 1);
  }

  /** In gel times of the film: conversion 0.65. */
  static double closes(double ratio) {
    return 1 + 2 * (ratio - 1);
  }
}
