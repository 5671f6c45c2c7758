package org.layroom.predictor.mix;

import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.heat.Laminate;
import org.layroom.predictor.heat.MoldKind;

/**
 * Where the mix goes.
 *
 * @param place the place in the layup
 * @param matLayers layers of mat wetted out in this pass, 0 to 50
 * @param laminate what is laid in this pass, where its thickness or its mat was said
 * @param mold what the mold is made of
 */
public record Pass(Place place, int matLayers, Optional<Laminate> laminate, MoldKind mold) {
  /** One layer of mat where only their number was said, g/m2 (1.5 oz/ft2, the most common). */
  private static final double USUAL_MAT_G_PER_M2 = 450;

  /** The wet end of 2 to 2.5 to 1: the hotter one. */
  private static final double WET_RESIN_TO_GLASS = 2.5;

  /** The place in the layup. */
  public enum Place {
    NOT_SAID,
    IN_MOLD,
    BETWEEN_LAYERS,
    LAST_COAT
  }

  public Pass {
    if (matLayers < 0 || matLayers > 50) {
      throw new IllegalArgumentException(
          "mat layers " + matLayers + " must be between 0 and 50 in one pass");
    }
  }

  /** Layers of the usual mat on a fiberglass mold. */
  public Pass(Place place, int matLayers) {
    this(place, matLayers, Optional.empty(), MoldKind.GRP);
  }

  /** Nothing was said about it. */
  public static Pass notSaid() {
    return new Pass(Place.NOT_SAID, 0);
  }

  /** So thick, on such a mold. */
  public static Pass thick(OptionalDouble mm, MoldKind mold) {
    Optional<Laminate> laid =
        mm.isPresent() ? Optional.of(Laminate.of(mm.getAsDouble())) : Optional.empty();
    return new Pass(Place.NOT_SAID, 0, laid, mold);
  }

  /** What is laid: as said, or so many layers of the usual mat; empty when nothing was said. */
  Optional<Laminate> laid() {
    if (laminate.isPresent() || matLayers == 0) {
      return laminate;
    }
    return Optional.of(Laminate.ofLayers(matLayers, USUAL_MAT_G_PER_M2, WET_RESIN_TO_GLASS));
  }
}
