package org.layroom.predictor.cure;

import java.util.List;

/**
 * The stages of one cup from mixing until a part may be loaded, each with its band. The gel clock
 * integrates the Arrhenius rate. Two clocks follow: hard enough to leave the mold, at the part's
 * own temperature ({@link HardeningClock}), and hard enough to load or leave in the sun, for which
 * cold hours count almost nothing ({@link QualityRate}). Working time runs on the resin's
 * temperature, the film's stages on the mold's. Stage multiples are published over the gel time in
 * a cup, so they hold the film's delay already; only the gel of the film itself is a separate
 * ratio.
 */
public final class CureClocks {
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
    return clocks.band(EnsembleClock.GEL);
  }

  private Band band(EnsembleClock clock) {
    double gels = clock.likelyGels(inputs.belief(), inputs.shape());
    return switch (clock.runs()) {
      case IN_CUP -> lateInTheCold(clock, gels, inputs.resin());
      case ON_MOLD -> lateInTheCold(clock, gels, inputs.mold());
      case IN_HOURS -> Ensemble.band(run.of(clock));
    };
  }

  /**
   * A gel stage's band, its latest edge no earlier than a can would be that gets slower in the cold
   * by 75 kJ/mol from the coldest temperature at which it is known.
   */
  private Band lateInTheCold(EnsembleClock clock, double multiple, TemperatureOutlook outlook) {
    Band band = Ensemble.smoothBand(run.of(clock));
    MaterialPosterior belief = inputs.belief();
    double known = belief.coldestKnownC();
    if (belief.sheetEa() >= CureFigures.COLD_EDGE_EA
        || band.p50() == Double.POSITIVE_INFINITY
        || outlook.paths().stream().allMatch(path -> path.lowest() >= known)) {
      return band;
    }
    double target = multiple * belief.likelyGelAtReferenceC(inputs.doseByWeightPct());
    ArrheniusRate sheet = new ArrheniusRate(belief.sheetEa(), belief.referenceC());
    double later =
        mean(outlook, new SteepColdRate(sheet, known, CureFigures.COLD_EDGE_EA), target)
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
    return StageRow.TABLE.stream()
        .filter(row -> row.kinds().contains(inputs.kind()))
        .map(
            row -> {
              Band opens = band(row.opens());
              return new StageTime(
                  row.stage(), opens, row.closes().map(this::band), row.advice().in(opens));
            })
        .toList();
  }
}
