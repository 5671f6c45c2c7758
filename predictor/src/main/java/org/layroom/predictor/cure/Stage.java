package org.layroom.predictor.cure;

/** The stages of a layup from the moment of mixing. */
public enum Stage {
  STOP_WETTING_OUT("stop-wetting-out", "end of working time"),
  GEL("gel", "gel in the cup"),
  FILM_GEL("film-gel", "gel on the mold"),
  EXOTHERM("exotherm", "hottest"),
  GREEN_TRIM("green-trim", "green trim"),
  READY_TO_LAMINATE("ready-to-laminate", "ready to laminate"),
  DEMOLD("demold", "demold"),
  FULL_HARDNESS("full-cure", "hard enough to load");

  private final String id;
  private final String words;

  Stage(String id, String words) {
    this.id = id;
    this.words = words;
  }

  /** The name in JSON. */
  public String id() {
    return id;
  }

  /** Whether it is a stage of the part, which goes by the cup that was laid last. */
  public boolean ofThePart() {
    return compareTo(GREEN_TRIM) >= 0;
  }

  /** The words on the page. */
  public String words() {
    return words;
  }
}
