package org.layroom.predictor.material;

import java.util.Optional;

/** What a material is used for in a layup. */
public enum MaterialKind {
  /** Wets out mat and cloth. */
  LAMINATING_RESIN("laminating-resin", "laminating resin"),
  /** The first coat in the mold, left bare of wax so that resin bonds to it. */
  GEL_COAT("gel-coat", "gel coat"),
  /** The last coat, on the side away from the mold. */
  FINISH_COAT("finish-coat", "finish coat");

  private final String id;
  private final String words;

  MaterialKind(String id, String words) {
    this.id = id;
    this.words = words;
  }

  /** The name in material files. */
  public String id() {
    return id;
  }

  /** The name for people. */
  public String words() {
    return words;
  }

  /** The kind with this name in material files, if there is one. */
  public static Optional<MaterialKind> ofId(String id) {
    for (MaterialKind kind : values()) {
      if (kind.id.equals(id)) {
        return Optional.of(kind);
      }
    }
    return Optional.empty();
  }
}
