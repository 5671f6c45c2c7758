package org.layroom.predictor.mix;

/**
 * Where the mix goes.
 *
 * @param place the place in the layup
 * @param matLayers layers of mat wetted out in this pass, 0 to 50
 */
public record Pass(Place place, int matLayers) {
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

  /** Nothing was said about it. */
  public static Pass notSaid() {
    return new Pass(Place.NOT_SAID, 0);
  }
}
