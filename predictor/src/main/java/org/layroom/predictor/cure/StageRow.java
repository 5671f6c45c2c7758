package org.layroom.predictor.cure;

import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.MaterialKind;

/**
 * The table of stages: which clock opens and closes each, for which materials it is shown, and what
 * to do then. A new stage is a row here and its name in {@link Stage}.
 *
 * @param kinds the materials that have this stage
 * @param opens the clock that opens it
 * @param closes the clock that closes it; empty for a stage that does not close
 * @param advice what to do or to check by hand, from when it opens
 */
record StageRow(
    Stage stage,
    Set<MaterialKind> kinds,
    EnsembleClock opens,
    Optional<EnsembleClock> closes,
    Advice advice) {
  /** What to say of a stage that opens at a time. */
  interface Advice {
    String in(Band fromMinutes);
  }

  private static final Set<MaterialKind> ALL = EnumSet.allOf(MaterialKind.class);

  /** Every stage once, in the order of {@link Stage}. */
  static final List<StageRow> TABLE =
      List.of(
          row(
              Stage.STOP_WETTING_OUT,
              ALL,
              EnsembleClock.STOP,
              "Stop brushing and rolling. Leave the cup."),
          row(
              Stage.GEL,
              ALL,
              EnsembleClock.GEL,
              "A large or deep cup heats itself and gels earlier."),
          row(Stage.FILM_GEL, ALL, EnsembleClock.FILM_GEL, "A thin layer gels later than the cup."),
          row(
              Stage.EXOTHERM,
              EnumSet.complementOf(EnumSet.of(MaterialKind.GEL_COAT)),
              EnsembleClock.EXOTHERM,
              "Thick spots get hot. Put leftover mix in a shallow tray outdoors, never in a bin."),
          new StageRow(
              Stage.GREEN_TRIM,
              EnumSet.of(MaterialKind.LAMINATING_RESIN),
              EnsembleClock.TRIM_OPENS,
              Optional.of(EnsembleClock.TRIM_CLOSES),
              opens ->
                  "When firm and rubbery, trim the edge with a knife. Have the knife ready in"
                      + " time."),
          row(
              Stage.READY_TO_LAMINATE,
              EnumSet.of(MaterialKind.GEL_COAT),
              EnsembleClock.LAMINATE,
              "Finger test first: tacky, but nothing comes off. Laminate the same day; up to 24"
                  + " h is normal. From 24 to 48 h, keep it covered and clean, and check for"
                  + " tack and for lifting at the corners. After 48 h, or when the tack is"
                  + " gone, scuff it lightly."),
          row(Stage.DEMOLD, ALL, EnsembleClock.DEMOLD, DemoldAdvice::words),
          row(
              Stage.FULL_HARDNESS,
              ALL,
              EnsembleClock.FULL,
              "Hard enough to load or to leave in the sun. Cold hours do not count for this: keep it"
                  + " above "
                  + Words.celsiusLimit(CureFigures.HOURS_REFERENCE_C)
                  + ", or warm it."));

  private static StageRow row(
      Stage stage, Set<MaterialKind> kinds, EnsembleClock opens, String advice) {
    return row(stage, kinds, opens, from -> advice);
  }

  private static StageRow row(
      Stage stage, Set<MaterialKind> kinds, EnsembleClock opens, Advice advice) {
    return new StageRow(stage, kinds, opens, Optional.empty(), advice);
  }

  /** The row of a stage. */
  static StageRow of(Stage stage) {
    return TABLE.stream().filter(row -> row.stage() == stage).findFirst().orElseThrow();
  }

  /** Whether the stage runs on the resin in the cup rather than on the mold. */
  boolean inCup() {
    return opens.runs() == EnsembleClock.Runs.IN_CUP;
  }
}
