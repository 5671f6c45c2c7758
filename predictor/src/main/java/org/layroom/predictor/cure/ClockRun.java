package org.layroom.predictor.cure;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.Map;

/** The clocks of one cup, run for every case of the ensemble. */
final class ClockRun {
  private static final EnsembleClock[] IN_CUP = clocks(EnsembleClock.Runs.IN_CUP);
  private static final EnsembleClock[] ON_MOLD = clocks(EnsembleClock.Runs.ON_MOLD);

  private final ClockInputs inputs;
  private final Map<EnsembleClock, double[]> times = new EnumMap<>(EnsembleClock.class);

  ClockRun(ClockInputs inputs) {
    this.inputs = inputs;
  }

  private static EnsembleClock[] clocks(EnsembleClock.Runs runs) {
    return Arrays.stream(EnsembleClock.values())
        .filter(clock -> clock.runs() == runs)
        .toArray(EnsembleClock[]::new);
  }

  /** The times of one clock, minutes after mixing, by case. */
  double[] of(EnsembleClock clock) {
    return times.computeIfAbsent(clock, unused -> new double[Ensemble.MEMBERS]);
  }

  /** Runs every clock of every case. */
  void runAll() {
    runCups();
    double[][] root = inputs.belief().cholesky();
    double perKelvin = perKelvin(inputs.mold(), CureFigures.LAMINATE);
    for (int member = 0; member < Ensemble.MEMBERS; member++) {
      double[] can = can(root, member);
      double sensor = inputs.moldSensorK() * z(member, Ensemble.MOLD_SENSOR);
      double gel = gelAtReference(can, member, perKelvin * sensor);
      reach(member, ON_MOLD, can, gel, moldPath(member));
      runHardening(member, can, sensor);
    }
  }

  /** Runs the clocks of the cup alone. */
  void runCups() {
    double[][] root = inputs.belief().cholesky();
    double perKelvin = perKelvin(inputs.resin(), 1);
    for (int member = 0; member < Ensemble.MEMBERS; member++) {
      double[] can = can(root, member);
      double sensor = inputs.resinSensorK() * z(member, Ensemble.RESIN_SENSOR);
      double gel = gelAtReference(can, member, perKelvin * sensor);
      TemperaturePath path = inputs.resin().path(Ensemble.uniform(member, Ensemble.FORECAST));
      reach(member, IN_CUP, can, gel, path);
    }
  }

  /**
   * By how much the logarithm of a gel time changes for a kelvin of sensor error, at the mean
   * temperature until then: linear, so that the band of a constant temperature is exact.
   */
  double perKelvin(TemperatureOutlook outlook, double gelTimes) {
    ArrheniusRate likely = inputs.belief().likelyRate();
    double gel = inputs.belief().likelyGelAtReferenceC(inputs.doseByWeightPct());
    double until = gelTimes * gel / likely.rate(outlook.meanUntil(gelTimes * gel));
    double meanC = outlook.meanUntil(Math.min(until, RateIntegral.LATEST_MINUTES));
    return new ArrheniusRate(inputs.belief().sheetEa(), meanC).slope(meanC, 1);
  }

  private void runHardening(int member, double[] can, double sensorK) {
    double[] reached = new double[2];
    double demold = 60 * inputs.demoldHoursAt20C();
    double full = 60 * Math.max(CureFigures.FULL_HOURS_AT_20C, inputs.demoldHoursAt20C());
    RateIntegral.reaches(
        moldPath(member), sensorK, hardeningLaw(can, member), new double[] {demold, full}, reached);
    double after = of(EnsembleClock.TWELVE_GELS)[member];
    of(EnsembleClock.DEMOLD)[member] = Math.max(after, reached[0]);
    of(EnsembleClock.FULL)[member] = Math.max(after, reached[1]);
  }

  /** One of the two laws for this case, with its doubt about cold hours. */
  ColdHourRate hardeningLaw(double[] can, int member) {
    ArrheniusRate arrhenius =
        new ArrheniusRate(can[MaterialPosterior.EA], CureFigures.HOURS_REFERENCE_C);
    RateLaw law =
        Ensemble.uniform(member, Ensemble.LAW) < 0.5
            ? arrhenius
            : new DegreeHourRate(arrhenius.tangentDatumC(), CureFigures.HOURS_REFERENCE_C);
    return new ColdHourRate(law, coldHourDoubt(member));
  }

  /** The earliest edge counts cold hours in full, the latest not at all. */
  private double coldHourDoubt(int member) {
    if (inputs.structural()) {
      return 1;
    }
    double doubt = (Ensemble.uniform(member, Ensemble.COLD_HOURS) - 0.1) / 0.8;
    return Math.max(0, Math.min(1, doubt));
  }

  private static void sortTogether(double[] targets, int[] order) {
    for (int i = 1; i < targets.length; i++) {
      for (int j = i; j > 0 && targets[j - 1] > targets[j]; j--) {
        double target = targets[j];
        targets[j] = targets[j - 1];
        targets[j - 1] = target;
        int place = order[j];
        order[j] = order[j - 1];
        order[j - 1] = place;
      }
    }
  }

  private void reach(
      int member, EnsembleClock[] clocks, double[] can, double gel, TemperaturePath path) {
    double[] targets = new double[clocks.length];
    int[] order = new int[clocks.length];
    for (int i = 0; i < order.length; i++) {
      targets[i] = gel * clocks[i].gels(can, member);
      order[i] = i;
    }
    sortTogether(targets, order);
    double[] reached = new double[targets.length];
    RateIntegral.reaches(path, 0, rate(can), targets, reached);
    for (int i = 0; i < order.length; i++) {
      of(clocks[order[i]])[member] = reached[i];
    }
  }

  double[] can(double[][] root, int member) {
    double[] can = inputs.belief().mean();
    for (int i = 0; i < can.length; i++) {
      for (int j = 0; j <= i; j++) {
        can[i] += root[i][j] * z(member, j);
      }
    }
    can[MaterialPosterior.EA] = Math.max(5, can[MaterialPosterior.EA]);
    return can;
  }

  /** Gel time in the cup at the reference temperature, with this case's dose and sensor errors. */
  double gelAtReference(double[] can, int member, double lnSensor) {
    MaterialPosterior belief = inputs.belief();
    double lnLess = StrictMath.log(belief.referenceDosePct() / inputs.doseByWeightPct());
    double lnDose = belief.sheetDoseExponent() * inputs.doseSpread() * z(member, Ensemble.DOSE);
    return StrictMath.exp(
        can[MaterialPosterior.LN_GEL]
            + can[MaterialPosterior.DOSE_EXPONENT] * lnLess
            - lnDose
            - lnSensor);
  }

  private ArrheniusRate rate(double[] can) {
    return new ArrheniusRate(can[MaterialPosterior.EA], inputs.belief().referenceC());
  }

  private TemperaturePath moldPath(int member) {
    return inputs.mold().path(Ensemble.uniform(member, Ensemble.FORECAST));
  }

  private static double z(int member, int input) {
    return Ensemble.normal(member, input);
  }
}
