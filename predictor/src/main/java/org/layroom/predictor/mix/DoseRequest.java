package org.layroom.predictor.mix;

/**
 * What a person asks of the catalyst: a working time, or a dose in one of the ways cans print it.
 */
public sealed interface DoseRequest {
  /** Work with the cup for so long: minutes, above 0. */
  record WorkingTime(double minutes) implements DoseRequest {
    public WorkingTime {
      require("working time", minutes, "min");
    }
  }

  /** Dose in % of the material's weight, above 0. */
  record ByWeight(double pct) implements DoseRequest {
    public ByWeight {
      require("dose", pct, "% by weight");
    }
  }

  /** Dose in ml of catalyst for a kilogram of material, above 0. */
  record MlPerKg(double ml) implements DoseRequest {
    public MlPerKg {
      require("dose", ml, "ml per kg");
    }
  }

  /** Dose in ml of catalyst for 100 ml of material, above 0. */
  record MlPer100Ml(double ml) implements DoseRequest {
    public MlPer100Ml {
      require("dose", ml, "ml per 100 ml");
    }
  }

  /** Dose in drops: always refused, for a drop is 0.03 to 0.07 ml. */
  record Drops(double drops) implements DoseRequest {
    public Drops {
      require("dose", drops, "drops");
    }
  }

  /** The gel time of the data sheet, at whatever temperature it is. */
  record SheetGelTime() implements DoseRequest {}

  private static void require(String what, double value, String unit) {
    if (!(value > 0 && value <= 1e6)) {
      throw new IllegalArgumentException(what + " " + value + " " + unit + " must be above 0");
    }
  }
}
