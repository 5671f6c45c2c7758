package org.layroom.predictor.cure;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.Map;
import org.layroom.predictor.hardening.DemoldBelief;
import org.layroom.predictor.hardening.Hardening;

/** The clocks of one cup, run for every case of the ensemble. */
final class ClockRun {
  private static final EnsembleClock[] IN_CUP = clocks(EnsembleClock.Runs.IN_CUP);
  private static final EnsembleClock[] ON_MOLD = clocks(EnsembleClock.Runs.ON_MOLD);

  private static final QualityRate QUALITY = new QualityRate();

  private final ClockInputs inputs;
  private final DemoldBelief demold;
  private final Map<EnsembleClock, double[]> times = new EnumMap<>(EnsembleClock.class);

  ClockRun(ClockInputs inputs) {
    this.inputs = inputs;
    demold = inputs.demold();
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
      runHardening(member, sensor);
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

  private void runHardening(int member, double sensorK) {
    TemperaturePath path = moldPath(member);
    double set = of(EnsembleClock.FILM_GEL)[member];
    double hours = StrictMath.exp(demold.lnHours() + demold.sdLn() * z(member, Ensemble.DEMOLD));
    if (inputs.hardening().structural()) {
      hours = Math.max(hours, Hardening.STRUCTURAL_HOURS_AT_20C);
    }
    double hard = Math.max(set, reaches(path, sensorK, hardeningLaw(member), 60 * hours));
    of(EnsembleClock.DEMOLD)[member] = hard;
    double load = StrictMath.exp(PriorSpreads.LN_LOAD * z(member, Ensemble.LOAD));
    of(EnsembleClock.FULL)[member] =
        Math.max(hard, reaches(path, 0, QUALITY, 60 * CureFigures.LOAD_HOURS_AT_20C * load));
  }

  private static double reaches(
      TemperaturePath path, double sensorK, RateLaw law, double equivalentMinutes) {
    double[] reached = new double[1];
    RateIntegral.reaches(path, sensorK, law, new double[] {equivalentMinutes}, reached);
    return reached[0];
  }

  /** One of the two laws for this case, with its doubt about cold hours. */
  ColdHourRate hardeningLaw(int member) {
    double Ea = HardeningClock.EA + HardeningClock.SD_EA * z(member, Ensemble.HARDENING_EA);
    boolean arrhenius = Ensemble.uniform(member, Ensemble.LAW) < 0.5;
    return new ColdHourRate(HardeningClock.law(Ea, arrhenius), coldHourDoubt(member));
  }

  /**
   * Hard at its own temperature goes on in the cold: four cases in five count cold hours in full,
   * one in ten not at all, so that the latest edge takes no credit for them (chosen).
   */
  private double coldHourDoubt(int member) {
    if (inputs.hardening().structural()) {
      return 1;
    }
    double doubt = (Ensemble.uniform(member, Ensemble.COLD_HOURS) - 0.8) / 0.1;
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
      targets[i] = gel * clocks[i].gels(can, member, inputs.shape());
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
