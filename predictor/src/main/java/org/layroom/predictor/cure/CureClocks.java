package org.layroom.predictor.cure;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.MaterialKind;

/**
 * The stages of one cup from mixing to full hardness, each with its band. The gel clock integrates
 * the Arrhenius rate; the demold clock counts equivalent hours at 20 degC, half of the cases by
 * Arrhenius and half by degree-hours, so that the difference of the two laws is in the band.
 * Working time runs on the resin's temperature, the film's stages on the mold's. Stage multiples
 * are published over the gel time in a cup, so they hold the film's delay already; only the gel of
 * the film itself is a separate ratio.
 */
public final class CureClocks {
  /** Hours at 20 degC until nothing more is gained. */
  public static final double FULL_HOURS_AT_20C = 168;

  /** Reference temperature of equivalent hours, degC. */
  public static final double HOURS_REFERENCE_C = 20;

  /** Part of the gel time in which mat can be wetted out: likely value of 0.6 to 0.8. */
  public static final double STOP = 0.7;

  static final double TRIM_OPENS = 1.5;
  static final double TRIM_CLOSES = 3.0;
  static final double EXOTHERM = StrictMath.sqrt(1.2 * 2.6);
  static final double LAMINATE = 4.0;
  static final double DEMOLD = 12;

  /** Published charts get steeper in the cold: the latest edge follows them, kJ/mol. */
  static final double COLD_EDGE_EA = 75;

  private final ClockInputs inputs;
  private final ClockRun run;

  private CureClocks(ClockInputs inputs) {
    this.inputs = inputs;
    run = new ClockRun(inputs);
  }

  /** All stages of this kind of material, always in the order of {@link Stage}. */
  public static List<StageTime> stages(ClockInputs inputs) {
    CureClocks clocks = new CureClocks(inputs);
    clocks.run.runAll();
    return clocks.read();
  }

  /** The gel time in the cup alone, minutes. */
  public static Band gelMinutes(ClockInputs inputs) {
    CureClocks clocks = new CureClocks(inputs);
    clocks.run.runCups();
    return clocks.lateInTheCold(Clock.GEL, 1, inputs.resin());
  }

  private Band band(Clock clock) {
    return Ensemble.band(run.of(clock));
  }

  /**
   * A gel stage's band, its latest edge no earlier than a can would be that gets slower in the cold
   * by 75 kJ/mol from the coldest temperature at which it is known.
   */
  private Band lateInTheCold(Clock clock, double multiple, TemperatureOutlook outlook) {
    Band band = Ensemble.smoothBand(run.of(clock));
    Belief belief = inputs.belief();
    double known = belief.coldestKnownC();
    if (belief.sheetEa() >= COLD_EDGE_EA
        || band.p50() == Double.POSITIVE_INFINITY
        || outlook.paths().stream().allMatch(path -> path.lowest() >= known)) {
      return band;
    }
    double target = multiple * belief.likelyGelAtReferenceC(inputs.doseByWeightPct());
    ArrheniusRate sheet = new ArrheniusRate(belief.sheetEa(), belief.referenceC());
    double later =
        mean(outlook, new SteepColdRate(sheet, known, COLD_EDGE_EA), target)
            / mean(outlook, sheet, target);
    return new Band(band.p10(), band.p50(), Math.max(band.p90(), band.p50() * later));
  }

  private static double mean(TemperatureOutlook outlook, RateLaw law, double target) {
    return outlook.paths().stream()
        .mapToDouble(path -> RateIntegral.reaches(path, law, target))
        .average()
        .orElseThrow();
  }

  private List<StageTime> read() {
    TemperatureOutlook resin = inputs.resin();
    TemperatureOutlook mold = inputs.mold();
    Band stop = lateInTheCold(Clock.STOP, STOP, resin);
    Band trim = lateInTheCold(Clock.TRIM_OPENS, TRIM_OPENS, mold);
    List<StageTime> stages = new ArrayList<>();
    stages.add(open(Stage.STOP_WETTING_OUT, stop, "Stop brushing and rolling; leave the cup."));
    stages.add(
        open(
            Stage.GEL,
            lateInTheCold(Clock.GEL, 1, resin),
            "A big or deep cup heats itself and gels earlier."));
    stages.add(
        open(
            Stage.FILM_GEL,
            lateInTheCold(Clock.FILM_GEL, inputs.belief().likelyFilmRatio(), mold),
            "A thin layer gels later than the cup."));
    boolean gelCoat = inputs.kind() == MaterialKind.GEL_COAT;
    if (gelCoat) {
      stages.add(
          open(
              Stage.READY_TO_LAMINATE,
              lateInTheCold(Clock.LAMINATE, LAMINATE, mold),
              "Finger test first: tacky, but nothing comes off. Best the same day; up to 24 h is"
                  + " normal. 24 to 48 h: keep it covered and clean, check tack and lifting at the"
                  + " corners. Over 48 h, or tack gone: scuff lightly."));
    } else {
      stages.add(
          open(
              Stage.EXOTHERM,
              lateInTheCold(Clock.EXOTHERM, EXOTHERM, mold),
              "Thick spots get hot. Left-over mix goes into a shallow tray outdoors, never a bin."));
    }
    if (inputs.kind() == MaterialKind.LAMINATING_RESIN) {
      stages.add(
          new StageTime(
              Stage.GREEN_TRIM,
              trim,
              Optional.of(lateInTheCold(Clock.TRIM_CLOSES, TRIM_CLOSES, mold)),
              "Firm and rubbery: trim the edge with a knife. Have the knife ready before it opens."));
    }
    stages.add(
        open(
            Stage.DEMOLD,
            band(Clock.DEMOLD),
            "Only after a hardness check: fingernail on the flange, a tap, no give; Barcol if you"
                + " own one. Cold hours below "
                + Words.celsiusLimit(ColdHourRate.FULL_C)
                + " count little: warm it."));
    stages.add(
        open(
            Stage.FULL_HARDNESS,
            band(Clock.FULL),
            "Hours of warm cure counted; nothing more is gained at room temperature."));
    return List.copyOf(stages);
  }

  private static StageTime open(Stage stage, Band band, String words) {
    return new StageTime(stage, band, Optional.empty(), words);
  }
}
