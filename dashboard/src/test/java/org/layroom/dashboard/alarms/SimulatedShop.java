package org.layroom.dashboard.alarms;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * One cell of the first simulation: a well-mixed box of 40 m3 at 25 degC, the vapor reaching a
 * sensor with a lag of a minute, and a prediction that is off by a factor of 2 at two standard
 * deviations.
 */
final class SimulatedShop implements Shop {
  private static final double MG_PER_PPM = 4.257;
  private static final double ACETONE_MG_PER_PPM = 2.375;
  private static final double LAG_SECONDS = 60;
  private static final double ACETONE_HOURS = 1.0 / 12;
  private static final double PREDICTION_SIGMA = Math.log(2) / 2;

  private final Scenario scenario;
  private final Chip chip;

  SimulatedShop(Scenario scenario, Chip chip) {
    this.scenario = scenario;
    this.chip = chip;
  }

  @Override
  public String scenario() {
    return scenario.name;
  }

  @Override
  public String sensitivity() {
    return chip.name();
  }

  @Override
  public List<Sensor> sensors() {
    return scenario.places.stream()
        .map(
            place ->
                chip.sensor(
                    place.device(),
                    place.houseSide(),
                    scenario.cleanAir ? Chip.CLEAN_TICKS : 0,
                    place.share(),
                    scenario.poisoned.applyAsDouble(1),
                    scenario.driftTicks.applyAsDouble(1)))
        .toList();
  }

  @Override
  public Stream<Moment> moments(long seed) {
    Run run = new Run(seed);
    return IntStream.range(0, (int) (scenario.hours * 3600 / scenario.stepSeconds))
        .mapToObj(run::moment);
  }

  private final class Run {
    private final Random random;
    private final double[] errors;
    private double styrene;
    private double predicted;
    private double wet;
    private double acetone;
    private double atSensor;
    private double acetoneAtSensor;

    Run(long seed) {
      random = new Random(seed);
      errors = new double[Math.max(1, scenario.jobs.size())];
      for (int i = 0; i < errors.length; i++) {
        errors[i] = Math.exp(PREDICTION_SIGMA * random.nextGaussian());
      }
    }

    Moment moment(int index) {
      double hour = index * scenario.stepSeconds / 3600;
      double before = (index - 1) * scenario.stepSeconds / 3600;
      air(hour, before);
      List<Happening> happenings = new ArrayList<>();
      told(hour, before, happenings);
      if (scenario.dark.stream().noneMatch(span -> span.holds(hour))) {
        scenario.places.forEach(place -> happenings.add(read(place, hour)));
      }
      return new Moment(
          Duration.ofMillis(Math.round(hour * 3_600_000)),
          styrene,
          acetone,
          job(hour).isPresent() ? OptionalDouble.of(predicted) : OptionalDouble.empty(),
          happenings);
    }

    private void air(double hour, double before) {
      double step = hour - Math.max(0, before);
      double grams =
          scenario.restGramsPerHour.applyAsDouble(hour)
              + scenario.layups.stream().mapToDouble(one -> one.gramsPerHour(hour)).sum();
      double changes = scenario.airPerHour.applyAsDouble(hour);
      double fed = 1000 * grams / scenario.volumeM3 / MG_PER_PPM;
      styrene = stepped(styrene, fed, changes, step);
      double promised = job(hour).map(Scenario.Job::promisedPerHour).orElse(changes);
      double error = job(hour).map(one -> errors[scenario.jobs.indexOf(one)]).orElse(1.0);
      predicted = stepped(predicted, error * fed, promised, step);
      for (Scenario.Wipe wipe : scenario.wipes) {
        wet += now(wipe.hour(), hour, before) ? wipe.grams() : 0;
      }
      double dried = wet * (1 - Math.exp(-step / ACETONE_HOURS));
      wet -= dried;
      acetone += 1000 * dried / scenario.volumeM3 / ACETONE_MG_PER_PPM;
      acetone *= Math.exp(-changes * step);
      double share = 1 - Math.exp(-step * 3600 / LAG_SECONDS);
      atSensor += share * (styrene - atSensor);
      acetoneAtSensor += share * (acetone - acetoneAtSensor);
    }

    private double stepped(double ppm, double fed, double changes, double hours) {
      double steady = fed / changes;
      return steady + (ppm - steady) * Math.exp(-changes * hours);
    }

    private Optional<Scenario.Job> job(double hour) {
      return scenario.jobs.stream()
          .filter(one -> hour >= one.hour() && hour < one.hour() + one.hours())
          .findFirst();
    }

    private boolean now(double at, double hour, double before) {
      return at <= hour && at > before;
    }

    private void told(double hour, double before, List<Happening> happenings) {
      for (Scenario.Job one : scenario.jobs) {
        if (now(one.hour(), hour, before)) {
          Duration atMost = Duration.ofSeconds(Math.round((one.hours() + 1) * 3600));
          happenings.add(new Happening.JobStarted(atMost, one.ticked(), one.ticked()));
        }
        if (now(one.hour() + one.hours(), hour, before)) {
          happenings.add(new Happening.JobEnded());
        }
      }
      scenario.deviceRestarts.stream()
          .filter(at -> now(at, hour, before))
          .forEach(
              at ->
                  scenario.places.forEach(
                      place -> happenings.add(new Happening.DeviceRestarted(place.device()))));
      scenario.dashboardRestarts.stream()
          .filter(at -> now(at, hour, before))
          .forEach(at -> happenings.add(new Happening.DashboardRestarted()));
      scenario.wipeTaps.stream()
          .filter(at -> now(at, hour, before))
          .forEach(at -> happenings.add(new Happening.Wiping()));
      if (!chip.pid()) {
        scenario.cleanAirTaken.stream()
            .filter(at -> now(at, hour, before))
            .forEach(
                at ->
                    scenario.places.forEach(
                        place ->
                            happenings.add(
                                new Happening.CleanAirTaken(
                                    place.device(), Chip.CLEAN_TICKS + shift(hour)))));
      }
    }

    private double shift(double hour) {
      return scenario.driftTicks.applyAsDouble(hour)
          + chip.swingTicks() * Math.sin(2 * Math.PI * hour / 24);
    }

    private Happening read(Scenario.Place place, double hour) {
      if (random.nextDouble() < scenario.badReads) {
        return new Happening.ReadFailed(place.device(), "check sum wrong");
      }
      if (chip.pid()) {
        return chip.pid(
            place.device(), place.share() * atSensor, place.share() * acetoneAtSensor, random);
      }
      if (hour < scenario.settlingUntil && hour < 1.0 / 60) {
        return new Happening.ReadFailed(place.device(), "warming up");
      }
      double level =
          chip.level(
              place.share() * atSensor,
              place.share() * acetoneAtSensor,
              scenario.poisoned.applyAsDouble(hour));
      return new Happening.ChipRead(
          place.device(),
          chip.ticks(level, shift(hour), scenario.endTicks, random),
          OptionalDouble.of(scenario.temperatureC.applyAsDouble(hour)),
          OptionalDouble.of(scenario.humidityPct.applyAsDouble(hour)),
          hour < scenario.settlingUntil ? Optional.of("settling") : Optional.empty());
    }
  }
}
