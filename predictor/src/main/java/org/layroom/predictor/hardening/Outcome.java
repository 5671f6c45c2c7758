package org.layroom.predictor.hardening;

import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;

/**
 * What became of a part at an age.
 *
 * @param kind what was found
 * @param barcol mean reading of the tester, 0 to 100; present exactly for {@link Kind#BARCOL}
 * @param age the part's age as hardening counts it
 */
public record Outcome(Kind kind, OptionalDouble barcol, PartAge age) {
  /** Fingernail on the flange (chosen: how far people differ, as a spread of the logarithm). */
  public static final double NAIL_SD_LN = 0.25;

  /** Judged by how the part came out (chosen). */
  public static final double PART_SD_LN = 0.35;

  /** Barcol at which a part may leave the mold (30 and more for moldings: ASTM D2583 practice). */
  static final double BARCOL_DEMOLD = 30;

  /** Barcol points for each e-fold of age (chosen; no table of Barcol against time was found). */
  static final double BARCOL_PER_E_FOLD = 10;

  /** Spread of a demold time read off one mean of ten readings (chosen). */
  static final double BARCOL_SD_LN = 0.4;

  /** Barcol of a fully hardened part: middle of the 40 to 50 of data sheets. */
  static final double BARCOL_FULL = 45;

  private static final double BARCOL_LEAST = 10;

  /** What was found. */
  public enum Kind {
    SOFT("soft", "soft to the fingernail", false, NAIL_SD_LN),
    HARD("hard", "hard to the fingernail", true, NAIL_SD_LN),
    FINE("fine", "came out fine", true, PART_SD_LN),
    CAME_OUT_SOFT("came-out-soft", "came out soft", false, PART_SD_LN),
    STUCK("stuck", "stuck in the mold", false, PART_SD_LN),
    WARPED("warped", "warped", false, PART_SD_LN),
    BARCOL("barcol", "hardness reading", true, BARCOL_SD_LN);

    private final String id;
    private final String words;
    private final boolean hard;
    private final double sdLn;

    Kind(String id, String words, boolean hard, double sdLn) {
      this.id = id;
      this.words = words;
      this.hard = hard;
      this.sdLn = sdLn;
    }

    /** The name in JSON and on the command line. */
    public String id() {
      return id;
    }

    /** The words on the page. */
    public String words() {
      return words;
    }

    /** The kind of this id. */
    public static Optional<Kind> of(String id) {
      return Arrays.stream(values()).filter(kind -> kind.id.equals(id)).findFirst();
    }

    /** All ids, for messages. */
    public static String ids() {
      return Arrays.stream(values()).map(Kind::id).collect(Collectors.joining(", "));
    }
  }

  public Outcome {
    if (barcol.isPresent() != (kind == Kind.BARCOL)) {
      throw new IllegalArgumentException("a hardness reading, and nothing else, needs its number");
    }
    double number = barcol.orElse(0);
    if (!(number >= 0 && number <= 100)) {
      throw new IllegalArgumentException("Barcol " + number + " must be between 0 and 100");
    }
  }

  /** A part judged by hand. */
  public static Outcome of(Kind kind, PartAge age) {
    return new Outcome(kind, OptionalDouble.empty(), age);
  }

  /** A mean of ten Barcol readings on a cooled part. */
  public static Outcome barcol(double reading, PartAge age) {
    return new Outcome(Kind.BARCOL, OptionalDouble.of(reading), age);
  }

  /** Whether the part was found too soft. */
  public boolean soft() {
    return barcol.isPresent() ? barcol.getAsDouble() < BARCOL_DEMOLD : !kind.hard;
  }

  /**
   * What it says about the demold time.
   *
   * @param addedSdLn further spread of this part, such as from its thickness
   */
  HardnessSeen seen(double addedSdLn) {
    double added = StrictMath.hypot(addedSdLn, age.sdLn());
    if (barcol.isEmpty()) {
      return new HardnessSeen.Judged(age.hours(), kind.hard, StrictMath.hypot(kind.sdLn, added));
    }
    double reading = barcol.getAsDouble();
    if (reading < BARCOL_LEAST || reading > 0.9 * BARCOL_FULL) {
      boolean hard = reading >= BARCOL_DEMOLD;
      return new HardnessSeen.Judged(age.hours(), hard, StrictMath.hypot(NAIL_SD_LN, added));
    }
    return new HardnessSeen.Measured(
        age.hours(),
        StrictMath.log(age.hours()) - (reading - BARCOL_DEMOLD) / BARCOL_PER_E_FOLD,
        StrictMath.hypot(kind.sdLn, added));
  }
}
