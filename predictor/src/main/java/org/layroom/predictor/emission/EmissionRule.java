package org.layroom.predictor.emission;

import org.layroom.predictor.limits.RangeCheck;

/**
 * How much of a material's weight goes into the air while it is applied and gels, against its
 * styrene content: the equations of two rules for reinforced plastics, US 40 CFR 63. They were
 * fitted to whole shops; one layup may be a factor of two off.
 */
public enum EmissionRule {
  /** Subpart WWWW Table 1, resin by hand (from memory; gives the limits printed in Table 3). */
  RESIN_BY_HAND {
    @Override
    double ofFraction(double styrene) {
      return styrene < 0.33 ? 0.126 * styrene : 0.286 * styrene - 0.0529;
    }
  },
  /** Subpart VVVV Table 3, resin without atomizing: {@code 0.014 HAP^2.275} kg per Mg. */
  RESIN_NOT_ATOMIZED {
    @Override
    double ofFraction(double styrene) {
      return 0.014 * StrictMath.pow(100 * styrene, 2.275) / 1000;
    }
  },
  /** Subpart VVVV Table 3, gel coat, all methods: {@code 0.445 HAP^1.675} kg per Mg. */
  GEL_COAT_ANY_METHOD {
    @Override
    double ofFraction(double styrene) {
      return 0.445 * StrictMath.pow(100 * styrene, 1.675) / 1000;
    }
  },
  /** Subpart WWWW Table 1, gel coat sprayed without atomizing (from memory, as above). */
  GEL_COAT_NOT_ATOMIZED {
    @Override
    double ofFraction(double styrene) {
      return styrene < 0.19 ? 0.185 * styrene : 0.4506 * styrene - 0.0505;
    }
  };

  /** Beyond this share of styrene a material is no laminating resin, %. */
  static final double HIGHEST_STYRENE_PCT = 70;

  /**
   * Weight given off by one weight of material.
   *
   * @param styrenePct styrene content as applied, 0 to 70 % by weight
   */
  public double share(double styrenePct) {
    RangeCheck.within("styrene content", styrenePct, 0, HIGHEST_STYRENE_PCT, "%");
    return ofFraction(styrenePct / 100);
  }

  abstract double ofFraction(double styrene);
}
