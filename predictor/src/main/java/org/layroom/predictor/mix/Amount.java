package org.layroom.predictor.mix;

import org.layroom.predictor.material.Material;

/** How much resin or gel coat is wanted. */
public sealed interface Amount {
  /** By volume, 1 to 1,000,000 ml. */
  record Milliliters(double ml) implements Amount {
    public Milliliters {
      require(ml, "ml");
    }

    @Override
    public double grams(Material material) {
      return ml * material.densityKgPerLOrTypical();
    }
  }

  /** By weight, 1 to 1,000,000 g. */
  record Grams(double grams) implements Amount {
    public Grams {
      require(grams, "g");
    }

    @Override
    public double grams(Material material) {
      return grams;
    }
  }

  /** The weight, g, with the can's density or a typical one. */
  double grams(Material material);

  private static void require(double value, String unit) {
    if (!(value >= 1 && value <= 1e6)) {
      throw new IllegalArgumentException(
          "amount " + value + " " + unit + " must be between 1 and 1000000 " + unit);
    }
  }
}
