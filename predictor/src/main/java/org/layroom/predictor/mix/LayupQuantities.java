package org.layroom.predictor.mix;

import java.util.ArrayList;
import java.util.List;
import org.layroom.predictor.heat.Laminate;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.limits.Words;

/**
 * How much gel coat, mat and resin a mold takes, from its area. Gel coat: area x wet film x
 * density. Resin: area x layers x mat weight x resin to glass.
 *
 * @param gelCoatGrams with waste, g; 0 without a gel coat
 * @param matGrams dry mat with waste, g
 * @param resinGrams with waste, g
 * @param thicknessMm of the laminate without gel coat, about
 * @param passes how many passes of at most 5 mm and four layers
 * @param warnings what to know about film, mat and layers
 */
public record LayupQuantities(
    double gelCoatGrams,
    double matGrams,
    double resinGrams,
    double thicknessMm,
    int passes,
    List<Warning> warnings) {
  /** One ounce per square foot in g per square meter. */
  public static final double OZ_PER_FT2 = 305.1516937;

  /** Five or more at once overheat (a furniture-making handbook). */
  private static final double LAYERS_IN_A_PASS = 4;

  /**
   * About as much as stays under 60 degC at 20 degC on a fiberglass mold; {@code peakC} of the mix
   * answer judges the pass itself.
   */
  private static final double MOST_MM_IN_A_PASS = 5;

  public LayupQuantities {
    warnings = List.copyOf(warnings);
  }

  /**
   * What is laid into the mold.
   *
   * @param areaM2 mold surface, 0.001 to 1000 m2
   * @param filmMm wet film of gel coat, 0 (none) to 2 mm
   * @param gelCoatKgPerL density of the gel coat, 0.9 to 2 kg/l
   * @param matGPerM2 weight of one layer of mat, 50 to 2000 g/m2
   * @param layers of mat, 0 to 50
   * @param resinToGlass by weight, 1 to 5
   * @param wastePct left in cups and brushes, 0 to 100 % on top
   */
  public record Layup(
      double areaM2,
      double filmMm,
      double gelCoatKgPerL,
      double matGPerM2,
      int layers,
      double resinToGlass,
      double wastePct) {
    public Layup {
      require("mold area", areaM2, 0.001, 1000, "m2");
      require("wet film", filmMm, 0, 2, "mm");
      require("gel coat density", gelCoatKgPerL, 0.9, 2, "kg/l");
      require("mat weight", matGPerM2, 50, 2000, "g/m2");
      require("mat layers", layers, 0, 50, "");
      require("resin to glass", resinToGlass, 1, 5, "");
      require("waste", wastePct, 0, 100, "%");
    }

    private static void require(String what, double value, double min, double max, String unit) {
      if (!(value >= min && value <= max)) {
        throw new IllegalArgumentException(
            "%s %s %s must be between %s and %s %s"
                .formatted(what, value, unit, min, max, unit)
                .strip());
      }
    }
  }

  /** The quantities for a layup. */
  public static LayupQuantities of(Layup layup) {
    double waste = 1 + layup.wastePct() / 100;
    double matPerM2 = layup.layers() * layup.matGPerM2();
    double resinPerM2 = matPerM2 * layup.resinToGlass();
    double layerMm = Laminate.layerMm(layup.matGPerM2(), layup.resinToGlass());
    int layersInAPass = Math.max(1, (int) Math.min(LAYERS_IN_A_PASS, MOST_MM_IN_A_PASS / layerMm));
    return new LayupQuantities(
        layup.areaM2() * layup.filmMm() * layup.gelCoatKgPerL() * 1000 * waste,
        layup.areaM2() * matPerM2 * waste,
        layup.areaM2() * resinPerM2 * waste,
        layup.layers() * layerMm,
        (layup.layers() + layersInAPass - 1) / layersInAPass,
        warnings(layup));
  }

  private static List<Warning> warnings(Layup layup) {
    List<Warning> warnings = new ArrayList<>();
    double film = layup.filmMm();
    if (film > 0 && film < 0.3) {
      warnings.add(
          film(film, "A film under 0.3 mm wrinkles under resin. Add gel coat and gauge it again."));
    }
    if (film > 0.61) {
      warnings.add(film(film, "A film over 0.61 mm sags and cracks. Spread it thinner."));
    }
    if (film > 0 && layup.layers() > 0 && layup.matGPerM2() > 460) {
      warnings.add(
          new Warning(
              "matGPerM2",
              Words.plain(layup.matGPerM2()) + " g/m2",
              "450 g/m2",
              "Next to gel coat, use mat of at most 450 g/m2 (1.5 oz/ft2). Lay a lighter mat"
                  + " first."));
    }
    if (layup.resinToGlass() < 2 || layup.resinToGlass() > 2.5) {
      warnings.add(
          new Warning(
              "resinToGlass",
              Words.plain(layup.resinToGlass()),
              "2 to 2.5",
              "Mat takes 2 to 2.5 parts of resin by weight. Less leaves it dry; more makes it"
                  + " brittle."));
    }
    return warnings;
  }

  private static Warning film(double filmMm, String reason) {
    return new Warning("filmMm", Words.plain(filmMm) + " mm", "0.3 to 0.61 mm", reason);
  }
}
