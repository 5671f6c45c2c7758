package org.layroom.predictor.cure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.junit.jupiter.api.Test;

/** The clocks against an independent integrator (Hipparchus, Dormand-Prince 8(5,3)). */
class RateIntegralTest {
  private static final double R = 8.314462618;

  /** A random room: a reading every 5 to 90 min over three days, 2 to 38 degC. */
  private static List<TemperaturePoint> room(Random random) {
    List<TemperaturePoint> points = new ArrayList<>();
    double minutes = 0;
    double tempC = 8 + 20 * random.nextDouble();
    while (minutes < 3 * 24 * 60) {
      points.add(new TemperaturePoint(minutes, tempC));
      // Half of the time as a logger does, a reading every few minutes that hardly moves.
      boolean steady = random.nextBoolean();
      minutes += steady ? 1 + 4 * random.nextDouble() : 5 + 85 * random.nextDouble();
      double step = steady ? 0.05 : 3;
      tempC = Math.max(2, Math.min(38, tempC + step * random.nextGaussian()));
    }
    return points;
  }

  /** The integral of the rate by Hipparchus, restarted at every reading and every kink. */
  private static double hipparchus(
      List<TemperaturePoint> points, double until, double[] kinksC, DoubleUnaryOperator rate) {
    double sum = 0;
    for (int i = 1; i < points.size(); i++) {
      TemperaturePoint a = points.get(i - 1);
      TemperaturePoint b = points.get(i);
      double end = Math.min(until, b.minutes());
      if (end <= a.minutes()) {
        break;
      }
      double perMinute = (b.temperatureC() - a.temperatureC()) / (b.minutes() - a.minutes());
      List<Double> cuts = new ArrayList<>(List.of(a.minutes(), end));
      for (double kinkC : kinksC) {
        double at = a.minutes() + (kinkC - a.temperatureC()) / perMinute;
        if (at > a.minutes() && at < end) {
          cuts.add(at);
        }
      }
      cuts.sort(null);
      for (int k = 1; k < cuts.size(); k++) {
        sum += smooth(a, perMinute, cuts.get(k - 1), cuts.get(k), rate);
      }
    }
    return sum;
  }

  private static double smooth(
      TemperaturePoint a, double perMinute, double from, double to, DoubleUnaryOperator rate) {
    if (to - from < 1e-7) {
      return (to - from)
          * rate.applyAsDouble(a.temperatureC() + perMinute * ((from + to) / 2 - a.minutes()));
    }
    OrdinaryDifferentialEquation equation =
        new OrdinaryDifferentialEquation() {
          @Override
          public int getDimension() {
            return 1;
          }

          @Override
          public double[] computeDerivatives(double t, double[] y) {
            // Strictly inside, so that a jump at an end belongs to the neighbor.
            double inside = Math.max(from + 1e-9, Math.min(to - 1e-9, t));
            double tempC = a.temperatureC() + perMinute * (inside - a.minutes());
            return new double[] {rate.applyAsDouble(tempC)};
          }
        };
    DormandPrince853Integrator integrator = new DormandPrince853Integrator(1e-9, 200, 1e-11, 1e-11);
    return integrator.integrate(equation, new ODEState(from, new double[] {0}), to)
        .getPrimaryState()[0];
  }

  private static double arrhenius(double ea, double tempC) {
    return Math.exp(-1000 * ea / R * (1 / (tempC + 273.15) - 1 / 293.15));
  }

  @Test
  void gelTimesUnderRandomTemperaturesAreThoseOfHipparchus() {
    Random random = new Random(20260301);
    double worst = 0;
    for (int run = 0; run < 200; run++) {
      List<TemperaturePoint> points = room(random);
      double ea = 35 + 45 * random.nextDouble();
      double target = 5 + 900 * random.nextDouble();
      double reached =
          RateIntegral.reaches(TemperaturePath.of(points), new ArrheniusRate(ea, 20), target);
      if (reached < points.get(points.size() - 1).minutes()) {
        double sum = hipparchus(points, reached, new double[0], t -> arrhenius(ea, t));
        worst = Math.max(worst, Math.abs(sum - target) / target);
      }
    }
    assertTrue(worst > 0 && worst < 1e-6, "largest relative difference " + worst);
  }

  @Test
  void demoldHoursUnderRandomTemperaturesAreThoseOfHipparchus() {
    Random random = new Random(20260302);
    double worst = 0;
    for (int run = 0; run < 200; run++) {
      List<TemperaturePoint> points = room(random);
      double doubt = random.nextDouble();
      double end = points.get(points.size() - 1).minutes() * random.nextDouble();
      DoubleUnaryOperator credit =
          t -> {
            double ramp = Math.max(0, Math.min(1, (t - 13) / 2));
            return t >= 15
                ? 1
                : doubt <= 0.5 ? 1 - 2 * doubt + 2 * doubt * ramp : 2 * (1 - doubt) * ramp;
          };
      TemperaturePath path = TemperaturePath.of(points);
      double byDegrees =
          RateIntegral.until(path, new ColdHourRate(new DegreeHourRate(7.5, 20), doubt), end);
      double sumDegrees =
          hipparchus(
              points,
              end,
              new double[] {7.5, 13, 15},
              t -> credit.applyAsDouble(t) * Math.max(0, t - 7.5) / 12.5);
      double byArrhenius =
          RateIntegral.until(path, new ColdHourRate(new ArrheniusRate(60, 20), doubt), end);
      double sumArrhenius =
          hipparchus(
              points, end, new double[] {13, 15}, t -> credit.applyAsDouble(t) * arrhenius(60, t));
      worst = Math.max(worst, Math.abs(byDegrees - sumDegrees) / (1 + sumDegrees));
      worst = Math.max(worst, Math.abs(byArrhenius - sumArrhenius) / (1 + sumArrhenius));
    }
    assertTrue(worst > 0 && worst < 1e-6, "largest relative difference " + worst);
  }

  @Property
  void clocksAddUpOverSplitsOfTime(
      @ForAll long seed,
      @ForAll @DoubleRange(min = 0, max = 1) double split,
      @ForAll @DoubleRange(min = 0, max = 1) double doubt) {
    List<TemperaturePoint> points = room(new Random(seed));
    TemperaturePath whole = TemperaturePath.of(points);
    double end = whole.endMinutes();
    double at = split * end;
    List<TemperaturePoint> rest = new ArrayList<>();
    rest.add(new TemperaturePoint(0, whole.at(at)));
    for (TemperaturePoint point : points) {
      if (point.minutes() > at) {
        rest.add(new TemperaturePoint(point.minutes() - at, point.temperatureC()));
      }
    }
    RateLaw law = new ColdHourRate(new ArrheniusRate(54, 20), doubt);
    double parts =
        RateIntegral.until(whole, law, at)
            + RateIntegral.until(TemperaturePath.of(rest), law, end - at);
    assertEquals(RateIntegral.until(whole, law, end), parts, 1e-6 * (1 + parts));
  }

  @Property
  void aTargetIsReachedWhenItsIntegralSaysSo(
      @ForAll long seed, @ForAll @DoubleRange(min = 1, max = 3000) double target) {
    TemperaturePath path = TemperaturePath.of(room(new Random(seed)));
    RateLaw law = new ArrheniusRate(54, 20);
    double minutes = RateIntegral.reaches(path, law, target);
    assertEquals(target, RateIntegral.until(path, law, minutes), 1e-8 * target);
  }

  @Property
  void aPathSoFarAndAForecastFromThereAreOnePath(
      @ForAll long seed, @ForAll @DoubleRange(min = 0, max = 4000) double now) {
    TemperaturePath path = TemperaturePath.of(room(new Random(seed)));
    TemperaturePath joined = path.then(now, path);
    RateLaw law = new ArrheniusRate(54, 20);
    assertEquals(
        RateIntegral.until(path, law, 5000), RateIntegral.until(joined, law, 5000), 1e-6 * 5000);
    assertEquals(path.meanUntil(5000), joined.meanUntil(5000), 1e-9);
  }
}
