package org.layroom.predictor.heat;

/**
 * What is laid in one pass.
 *
 * @param thickestMm thickest place, mm, above 0 and at most 100: it gets hottest
 * @param thinnestMm thinnest place, mm, above 0 and not over the thickest: it is hard last
 * @param glassShare glass by weight, 0.1 to 0.7
 */
public record Laminate(double thickestMm, double thinnestMm, double glassShare) {
  /** Glass by weight of a mat layup at about 2.3 to 1 resin to glass. */
  public static final double USUAL_GLASS_SHARE = 0.30;

  /** Density of E-glass, kg/m3. */
  private static final double GLASS_KG_PER_M3 = 2540;

  /** Density of hardened and of liquid resin, kg/m3: it shrinks as it hardens. */
  private static final double HARD_RESIN_KG_PER_M3 = 1200;

  private static final double RESIN_KG_PER_M3 = 1120;
  private static final double GLASS_J_PER_G_K = 0.8;
  private static final double RESIN_J_PER_G_K = 1.9;

  /** Heat of cure of the resin, J/g: 69 kJ per mol of C=C at 40 % styrene gives 353 to 398. */
  private static final double HEAT_J_PER_G = 350;

  private static final double CONDUCTIVITY_W_PER_M_K = 0.247;

  public Laminate {
    if (!(thickestMm > 0 && thickestMm <= 100)) {
      throw new IllegalArgumentException(
          "thickness " + thickestMm + " mm must be above 0 and at most 100 mm");
    }
    if (!(thinnestMm > 0 && thinnestMm <= thickestMm)) {
      throw new IllegalArgumentException(
          "thinnest place "
              + thinnestMm
              + " mm must be above 0 and not over the thickest, "
              + thickestMm
              + " mm");
    }
    if (!(glassShare >= 0.1 && glassShare <= 0.7)) {
      throw new IllegalArgumentException(
          "glass share " + glassShare + " must be between 0.1 and 0.7");
    }
  }

  /** One thickness everywhere, with the usual share of glass, mm. */
  public static Laminate of(double mm) {
    return new Laminate(mm, mm, USUAL_GLASS_SHARE);
  }

  /**
   * Layers of mat.
   *
   * @param layers 1 to 50
   * @param matGPerM2 weight of one layer, g/m2, above zero
   * @param resinToGlass by weight, 1 to 5
   */
  public static Laminate ofLayers(int layers, double matGPerM2, double resinToGlass) {
    double mm = layers * layerMm(matGPerM2, resinToGlass);
    return new Laminate(mm, mm, 1 / (1 + resinToGlass));
  }

  /** Thickness of one layer of mat, mm: 450 g/m2 at 2.5 to 1 is 1.115 mm. */
  public static double layerMm(double matGPerM2, double resinToGlass) {
    return matGPerM2 / GLASS_KG_PER_M3 + matGPerM2 * resinToGlass / HARD_RESIN_KG_PER_M3;
  }

  double densityKgPerM3() {
    return 1 / (glassShare / GLASS_KG_PER_M3 + (1 - glassShare) / RESIN_KG_PER_M3);
  }

  double heatJPerGK() {
    return GLASS_J_PER_G_K * glassShare + RESIN_J_PER_G_K * (1 - glassShare);
  }

  /** By how much it would warm if no heat were lost, K. */
  double adiabaticK() {
    return (1 - glassShare) * HEAT_J_PER_G / heatJPerGK();
  }

  /** Heat taken up, J/(m2 K). */
  double capacity() {
    return densityKgPerM3() * heatJPerGK() * thickestMm;
  }

  /** Resistance from its face to its middle, m2 K/W. */
  double halfResistance() {
    return thickestMm / 1000 / (2 * CONDUCTIVITY_W_PER_M_K);
  }
}
