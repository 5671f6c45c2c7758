package org.layroom.dashboard.alarms;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.DoubleUnaryOperator;

/** What happens in a shop of the first simulation, in hours from its first moment. */
final class Scenario {
  /** A layup: half given off while it is rolled for half an hour, half in the 45 min to gel. */
  record Layup(double hour, double grams) {
    private static final double ROLLED = 0.5;
    private static final double GELS = 0.75;

    double gramsPerHour(double now) {
      double since = now - hour;
      if (since < 0 || since >= ROLLED + GELS) {
        return 0;
      }
      return grams / 2 / (since < ROLLED ? ROLLED : GELS);
    }
  }

  record Job(double hour, double hours, boolean ticked, double promisedPerHour) {}

  record Wipe(double hour, double grams) {}

  record Span(double from, double to) {
    boolean holds(double hour) {
      return hour >= from && hour < to;
    }
  }

  record Place(String device, double share, boolean houseSide) {}

  final String name;
  final double hours;
  double stepSeconds = 10;
  double volumeM3 = 40;
  DoubleUnaryOperator airPerHour = hour -> 0.3;
  DoubleUnaryOperator humidityPct = hour -> 50;
  DoubleUnaryOperator temperatureC = hour -> 20;
  DoubleUnaryOperator restGramsPerHour = hour -> 0;
  DoubleUnaryOperator driftTicks = hour -> 0;
  DoubleUnaryOperator poisoned = hour -> 1;
  double endTicks;
  double badReads;
  double settlingUntil;
  boolean cleanAir = true;
  final List<Layup> layups = new ArrayList<>();
  final List<Job> jobs = new ArrayList<>();
  final List<Wipe> wipes = new ArrayList<>();
  final List<Span> dark = new ArrayList<>();
  final List<Double> deviceRestarts = new ArrayList<>();
  final List<Double> dashboardRestarts = new ArrayList<>();
  final List<Double> wipeTaps = new ArrayList<>();
  final List<Double> cleanAirTaken = new ArrayList<>();
  final List<Place> places = new ArrayList<>(List.of(new Place("bench", 1, false)));

  Scenario(String name, double hours) {
    this.name = name;
    this.hours = hours;
  }

  /** Air changes; the last that has begun holds. */
  Scenario air(double... hourAndPerHour) {
    airPerHour =
        hour -> {
          double value = hourAndPerHour[1];
          for (int i = 0; i < hourAndPerHour.length; i += 2) {
            value = hour >= hourAndPerHour[i] ? hourAndPerHour[i + 1] : value;
          }
          return value;
        };
    return this;
  }

  Scenario layup(double hour, double grams) {
    layups.add(new Layup(hour, grams));
    return this;
  }

  /** With fan and respirator ticked; whether the fan then runs is the air's business. */
  Scenario job(double hour, double hours) {
    jobs.add(new Job(hour, hours, true, 10));
    return this;
  }

  Scenario jobUnticked(double hour, double hours) {
    jobs.add(new Job(hour, hours, false, 0.5));
    return this;
  }

  Scenario wipe(double hour, double grams) {
    wipes.add(new Wipe(hour, grams));
    return this;
  }

  Scenario wipeTap(double hour) {
    wipeTaps.add(hour);
    return this;
  }

  Scenario dark(double from, double to) {
    dark.add(new Span(from, to));
    return this;
  }

  Scenario deviceRestart(double hour) {
    deviceRestarts.add(hour);
    return this;
  }

  Scenario dashboardRestart(double hour) {
    dashboardRestarts.add(hour);
    return this;
  }

  Scenario at(Place... where) {
    places.clear();
    places.addAll(List.of(where));
    return this;
  }

  /** With what is rarely told. */
  Scenario with(Consumer<Scenario> more) {
    more.accept(this);
    return this;
  }
}
