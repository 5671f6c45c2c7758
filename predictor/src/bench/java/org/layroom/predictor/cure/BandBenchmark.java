package org.layroom.predictor.cure;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.ODEStateAndDerivative;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.hipparchus.ode.sampling.ODEStateInterpolator;
import org.hipparchus.ode.sampling.ODEStepHandler;
import org.layroom.predictor.bench.Scores;
import org.layroom.predictor.hardening.Hardening;
import org.layroom.predictor.material.MaterialKind;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.openjdk.jmh.runner.RunnerException;

/**
 * The full band of one job (512 cases, 72 h of one-minute temperatures, all stages) against (a) a
 * straightforward adaptive integration of the same cases with Hipparchus at 1e-6, and (b) the bare
 * cost of one exponential for each case and minute. Run with {@code mvn -B -P bench -pl predictor
 * verify}; prints the ratios of one run and how far the answers of (a) lie from ours.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
public class BandBenchmark {
  private static final int MINUTES = 72 * 60;

  private final double[] temperatureC = temperatures();
  private final ClockInputs inputs = inputs(temperatureC);

  private static double[] temperatures() {
    Random random = new Random(20260304);
    double[] temperatureC = new double[MINUTES + 1];
    double wander = 0;
    for (int minute = 0; minute <= MINUTES; minute++) {
      wander = 0.999 * wander + 0.03 * random.nextGaussian();
      temperatureC[minute] = 18.5 + 3.5 * Math.sin(2 * Math.PI * minute / 1440.0) + wander;
    }
    return temperatureC;
  }

  private static ClockInputs inputs(double[] temperatureC) {
    List<TemperaturePoint> points = new ArrayList<>();
    for (int minute = 0; minute < temperatureC.length; minute++) {
      points.add(new TemperaturePoint(minute, temperatureC[minute]));
    }
    TemperatureOutlook room = TemperatureOutlook.of(TemperaturePath.of(points));
    MaterialPosterior resin = MaterialPosterior.untested(20, 20, 1.5, 54, 0.9);
    return new ClockInputs(
        resin, MaterialKind.LAMINATING_RESIN, 1.5, 0.05, room, 1, room, 1, Hardening.typical());
  }

  /** Ours. */
  @Benchmark
  public List<StageTime> band() {
    return CureClocks.stages(inputs);
  }

  /** (b): one exponential for each case and minute. */
  @Benchmark
  public double bareExponentials() {
    double sum = 0;
    for (int member = 0; member < Ensemble.MEMBERS; member++) {
      double slope = 0.07 + 1e-4 * member;
      for (int minute = 0; minute < MINUTES; minute++) {
        sum += StrictMath.exp(slope * (temperatureC[minute] - 20));
      }
    }
    return sum;
  }

  /**
   * (a): gel and hardening of every case as an equation, by Dormand-Prince 8(5,3) at 1e-6, restarted
   * at each reading.
   */
  @Benchmark
  public double[][] hipparchus() {
    double[][] times = new double[Ensemble.MEMBERS][];
    ClockRun run = new ClockRun(inputs);
    for (int member = 0; member < Ensemble.MEMBERS; member++) {
      times[member] = integrate(run, member);
    }
    return times;
  }

  /** Gel in the film and demold of one case, minutes; infinite when not within 72 h. */
  private double[] integrate(ClockRun run, int member) {
    double[] can = run.can(inputs.belief().cholesky(), member);
    double sensorK = Ensemble.normal(member, Ensemble.MOLD_SENSOR);
    double gel = run.gelAtReference(can, member, run.perKelvin(inputs.mold(), 4) * sensorK);
    double film = gel * Math.exp(can[MaterialPosterior.LN_FILM_RATIO]);
    ColdHourRate hardening = run.hardeningLaw(member);
    ArrheniusRate rate = new ArrheniusRate(can[MaterialPosterior.EA], 20);
    OrdinaryDifferentialEquation equation =
        new OrdinaryDifferentialEquation() {
          @Override
          public int getDimension() {
            return 2;
          }

          @Override
          public double[] computeDerivatives(double minutes, double[] state) {
            double tempC = at(minutes);
            return new double[] {rate.rate(tempC), hardening.rate(tempC + sensorK)};
          }
        };
    double[] reached = {Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY};
    double hours =
        inputs.demold().medianHours()
            * Math.exp(inputs.demold().sdLn() * Ensemble.normal(member, Ensemble.DEMOLD));
    double[] targets = {film, 60 * hours};
    DormandPrince853Integrator integrator = new DormandPrince853Integrator(1e-6, 1, 1e-6, 1e-6);
    integrator.addStepHandler(
        new ODEStepHandler() {
          @Override
          public void init(ODEStateAndDerivative first, double end) {}

          @Override
          public void handleStep(ODEStateInterpolator step) {
            for (int i = 0; i < targets.length; i++) {
              if (reached[i] == Double.POSITIVE_INFINITY
                  && step.getCurrentState().getPrimaryState()[i] >= targets[i]) {
                reached[i] = bisect(step, i, targets[i]);
              }
            }
          }
        });
    // Restarted at each reading, where the temperature has a kink.
    ODEState state = new ODEState(0, new double[2]);
    for (int minute = 0; minute < MINUTES; minute++) {
      ODEStateAndDerivative end = integrator.integrate(equation, state, minute + 1.0);
      state = new ODEState(end.getTime(), end.getPrimaryState());
    }
    reached[1] = Math.max(reached[0], reached[1]);
    return reached;
  }

  private static double bisect(ODEStateInterpolator step, int index, double target) {
    double low = step.getPreviousState().getTime();
    double high = step.getCurrentState().getTime();
    for (int i = 0; i < 50; i++) {
      double middle = (low + high) / 2;
      if (step.getInterpolatedState(middle).getPrimaryState()[index] < target) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return high;
  }

  private double at(double minutes) {
    int minute = Math.max(0, Math.min(MINUTES - 1, (int) minutes));
    double part = minutes - minute;
    return temperatureC[minute] + part * (temperatureC[minute + 1] - temperatureC[minute]);
  }

  /** Runs all three and prints what matters. */
  public static void main(String[] args) throws RunnerException {
    BandBenchmark benchmark = new BandBenchmark();
    double[][] theirs = benchmark.hipparchus();
    ClockRun ours = new ClockRun(benchmark.inputs);
    ours.runAll();
    double worst = 0;
    for (int member = 0; member < Ensemble.MEMBERS; member++) {
      double[] mine = {ours.of(EnsembleClock.FILM_GEL)[member], ours.of(EnsembleClock.DEMOLD)[member]};
      for (int i = 0; i < mine.length; i++) {
        if (mine[i] < MINUTES && theirs[member][i] < MINUTES) {
          worst = Math.max(worst, Math.abs(mine[i] / theirs[member][i] - 1));
        }
      }
    }
    Map<String, Double> scores = Scores.of(BandBenchmark.class);
    double band = scores.getOrDefault("band", Double.NaN);
    double hipparchus = scores.getOrDefault("hipparchus", Double.NaN);
    double bare = scores.getOrDefault("bareExponentials", Double.NaN);
    System.out.printf(
        Locale.ROOT,
        "band %.1f ms; adaptive integration %.1f ms, %.1f times as long; bare exponentials %.1f ms,"
            + " band takes %.2f of them; largest relative difference of a time %.1e%n",
        band,
        hipparchus,
        hipparchus / band,
        bare,
        band / bare,
        worst);
  }
}
