package org.layroom.predictor.heat;

import java.util.Arrays;
import java.util.Optional;
import java.util.stream.Collectors;

/** What the mold is made of: how much heat it takes up and how well it lets it through. */
public enum MoldKind {
  /** A glass-reinforced polyester mold of 6 mm. */
  GRP("grp", "fiberglass mold", 1500, 1.2, 0.25, 6),
  /** A wood plug of 18 mm (chosen so that 3 and 5 mm reach 47 and 74 degC). */
  WOOD("wood", "wood mold", 530, 1.6, 0.125, 18),
  /** A foam plug of 25 mm (chosen so that 3 and 5 mm reach 71 and 103 degC). */
  FOAM("foam", "foam mold", 100, 1.4, 0.035, 25);

  private final String id;
  private final String words;
  private final double densityKgPerM3;
  private final double heatJPerGK;
  private final double conductivityWPerMK;
  private final double thicknessMm;

  MoldKind(
      String id,
      String words,
      double densityKgPerM3,
      double heatJPerGK,
      double conductivityWPerMK,
      double thicknessMm) {
    this.id = id;
    this.words = words;
    this.densityKgPerM3 = densityKgPerM3;
    this.heatJPerGK = heatJPerGK;
    this.conductivityWPerMK = conductivityWPerMK;
    this.thicknessMm = thicknessMm;
  }

  /** The name on the command line and in JSON. */
  public String id() {
    return id;
  }

  /** The words on the page. */
  public String words() {
    return words;
  }

  /** The kind of this id. */
  public static Optional<MoldKind> of(String id) {
    return Arrays.stream(values()).filter(kind -> kind.id.equals(id)).findFirst();
  }

  /** All ids, for messages. */
  public static String ids() {
    return Arrays.stream(values()).map(MoldKind::id).collect(Collectors.joining(", "));
  }

  /** Heat taken up, J/(m2 K). */
  double capacity() {
    return densityKgPerM3 * heatJPerGK * thicknessMm;
  }

  /** Resistance from its face to its middle, m2 K/W. */
  double halfResistance() {
    return thicknessMm / 1000 / (2 * conductivityWPerMK);
  }
}
