package org.layroom.dashboard.alarms.second;

import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.Random;
import org.layroom.dashboard.alarms.Happening;
import org.layroom.dashboard.alarms.Moment;
import org.layroom.dashboard.alarms.second.Scenario.Job;
import org.layroom.dashboard.alarms.second.Source.Vapor;

/** How one scenario goes with one sensor: moment after moment, all chance from one seed. */
final class Course {
  /**
   * CHOICE: an untaught prediction is off by a factor of two either way, one time in three worse.
   */
  private static final double PREDICTION_SPREAD = 0.7;

  /** CHOICE: what comes through a shut door, and how slowly the house fills. */
  private static final double HOUSE_SHARE = 0.2;

  private static final double HOUSE_S = 1200;

  private final Scenario plot;
  private final Weather weather;
  private final Random chance;
  private final Map<Vapor, Boxes> air = new EnumMap<>(Vapor.class);
  private final Map<Vapor, Double> house = new EnumMap<>(Vapor.class);
  private final List<Mounted> mounted = new ArrayList<>();
  private Boxes predicted;
  private double predictionOff = 1;
  private int second = -1;

  Course(SecondShop shop, long seed) {
    plot = shop.plot();
    chance = new Random(seed);
    weather = new Weather(plot.climate, new Random(seed + 1_000_003));
    for (Vapor vapor : Vapor.values()) {
      double ppm = vapor == Vapor.STYRENE ? plot.startPpm : 0;
      double start = ppm / Boxes.ppm(1, molarMass(vapor), plot.climate.meanC());
      air.put(vapor, new Boxes(plot.volumeM3, plot.betaM3PerMin, start));
      house.put(vapor, 0.0);
    }
    predicted = new Boxes(plot.volumeM3, 30, 0);
    mounted.add(new Mounted(shop, Scenario.SHOP, new Random(seed + 2_000_003)));
    if (plot.house) {
      mounted.add(new Mounted(shop, Scenario.HOUSE, new Random(seed + 3_000_017)));
    }
  }

  /** Molar mass, g/mol. PUBLISHED: NIOSH for styrene; the others by their formulas. */
  private static double molarMass(Vapor vapor) {
    return switch (vapor) {
      case STYRENE -> 104.15;
      case ACETONE -> 58.08;
      case ETHANOL -> 46.07;
    };
  }

  /** The next moment; the first is at zero. */
  Moment next() {
    boolean first = second < 0;
    double before = second;
    second = first ? 0 : second + plot.stepS;
    int passed = first ? 0 : plot.stepS;
    double changes = plot.changesAt(second);
    weather.go(passed, plot.startHour + second / 3600.0, changes);
    for (Vapor vapor : Vapor.values()) {
      air(vapor).go(passed, rate(vapor, weather.celsius()), changes);
      double through = HOUSE_SHARE * air(vapor).at(0);
      double in = house(vapor);
      house.put(vapor, in + (through - in) * passed / HOUSE_S);
    }
    List<Happening> happenings = new ArrayList<>();
    told(before, happenings);
    for (Mounted one : mounted) {
      one.read(second, passed, felt(one), weather, happenings);
    }
    cleanAir(before, happenings);
    return new Moment(
        Duration.ofSeconds(second),
        ppm(Vapor.STYRENE, plot.breathNear),
        ppm(Vapor.ACETONE, plot.breathNear),
        prediction(before, passed),
        happenings);
  }

  private double rate(Vapor vapor, double airC) {
    return plot.sources.stream()
        .filter(one -> one.vapor() == vapor)
        .mapToDouble(one -> one.rate(second, airC))
        .sum();
  }

  private Boxes air(Vapor vapor) {
    return Objects.requireNonNull(air.get(vapor));
  }

  private double house(Vapor vapor) {
    return Objects.requireNonNull(house.get(vapor));
  }

  private double ppm(Vapor vapor, double nearShare) {
    return Boxes.ppm(air(vapor).at(nearShare), molarMass(vapor), weather.celsius());
  }

  private Felt felt(Mounted one) {
    return new Felt(felt(one, Vapor.STYRENE), felt(one, Vapor.ACETONE), felt(one, Vapor.ETHANOL));
  }

  private double felt(Mounted one, Vapor vapor) {
    return one.device().equals(Scenario.HOUSE)
        ? Boxes.ppm(house(vapor), molarMass(vapor), weather.celsius())
        : ppm(vapor, plot.sensorNear);
  }

  private boolean due(double atS, double before) {
    return atS > before && atS <= second;
  }

  private void told(double before, List<Happening> out) {
    for (Job job : plot.jobs) {
      if (due(job.toS(), before)) {
        out.add(new Happening.JobEnded());
      }
      if (due(job.fromS(), before)) {
        Duration most = Duration.ofSeconds(Math.round(job.toS() - job.fromS()) + 3600);
        out.add(new Happening.JobStarted(most, job.fan(), job.respirator()));
      }
    }
    plot.told.stream().filter(one -> due(one.atS(), before)).forEach(one -> out.add(one.what()));
  }

  private void cleanAir(double before, List<Happening> out) {
    for (Scenario.CleanAir one : plot.cleanAir) {
      if (due(one.atS(), before)) {
        mounted.forEach(device -> device.cleanAirTaken(out));
      }
    }
  }

  /** What a one-box model upstairs would say of a job's layups at the air that it believes in. */
  private OptionalDouble prediction(double before, int passed) {
    Job now = null;
    for (Job job : plot.jobs) {
      if (due(job.fromS(), before)) {
        predicted = new Boxes(plot.volumeM3, 30, 0);
        predictionOff = Math.exp(PREDICTION_SPREAD * chance.nextGaussian());
      }
      if (second >= job.fromS() && second < job.toS()) {
        now = job;
      }
    }
    if (now == null) {
      return OptionalDouble.empty();
    }
    double planned =
        plot.sources.stream()
            .filter(Source.Layup.class::isInstance)
            .mapToDouble(one -> one.rate(second, 25))
            .sum();
    predicted.go(passed, planned, now.believed());
    double ppm = predictionOff * Boxes.ppm(predicted.at(0.5), molarMass(Vapor.STYRENE), 25);
    return ppm < 0.01 ? OptionalDouble.empty() : OptionalDouble.of(ppm);
  }

  /** Air at a sensor, ppm. */
  record Felt(double styrene, double acetone, double ethanol) {}
}
