package org.layroom.dashboard.alarms.second;

import java.util.ArrayList;
import java.util.List;
import org.layroom.dashboard.alarms.Happening;
import org.layroom.dashboard.alarms.second.Source.Vapor;

/** What a shop goes through, told in minutes since the first moment. */
final class Scenario {
  /** What may befall a device. */
  enum Trouble {
    /** The sensor is off its plug: each read fails. */
    UNPLUGGED,
    /** The device has no power: nothing at all; then it starts cold. */
    NO_POWER,
    /** The device's program is down; then it starts again, the sensor still warm. */
    PROGRAM_DOWN,
    /** A share of the reads fails. */
    FAILED_READS,
    /** A share of the reads is far off, half of them toward vapor. */
    WRONG_READS,
    /** Each read gives the same. */
    STUCK,
    /** The air sensor beside it is silent. */
    NO_CLIMATE
  }

  /** The device in the shop. */
  static final String SHOP = "shop";

  /** The device on the house side of the door. */
  static final String HOUSE = "house";

  final String name;
  final int minutes;
  int stepS = 10;
  double volumeM3 = 40; // CHOICE: a one-car garage
  double betaM3PerMin = 5; // MEMORY: 3-30
  double sensorNear = 0.5; // CHOICE: of the near box's excess, what the sensor feels
  double breathNear = 0.5; // CHOICE: the same of the person, who is there half of the time
  double startPpm;
  double eightHourPpm = 20;
  double startHour = 9;
  double endLevel;
  double startDrift;
  double left = 1;
  boolean coldAtFirst;
  boolean house;
  Weather.Climate climate = new Weather.Climate(19, 2, 55, -6, 10);
  final List<Source> sources = new ArrayList<>();
  final List<Change> changes = new ArrayList<>();
  final List<Fault> faults = new ArrayList<>();
  final List<Job> jobs = new ArrayList<>();
  final List<Told> told = new ArrayList<>();
  final List<CleanAir> cleanAir = new ArrayList<>();

  /** From a minute on, so many air changes an hour. */
  record Change(double fromS, double perHour) {}

  /** A trouble of a device for a while; a share of the reads where it takes one. */
  record Fault(Trouble what, String device, double fromS, double toS, double share) {
    boolean at(double second) {
      return second >= fromS && second < toS;
    }
  }

  /** A job that somebody told of, and the air changes that the prediction believes in. */
  record Job(double fromS, double toS, boolean fan, boolean respirator, double believed) {}

  /** Something said or done at a time. */
  record Told(double atS, Happening what) {}

  /** A clean-air reading of the shop's device at a time. */
  record CleanAir(double atS) {}

  Scenario(String name, int minutes, double changesPerHour) {
    this.name = name;
    this.minutes = minutes;
    changes.add(new Change(0, changesPerHour));
  }

  Scenario air(double minute, double perHour) {
    changes.add(new Change(60 * minute, perHour));
    return this;
  }

  Scenario laminate(double minute, double takes, double kilograms) {
    return laidUp(minute, takes, kilograms, 42, false);
  }

  Scenario gelCoat(double minute, double takes, double kilograms) {
    return laidUp(minute, takes, kilograms, 40, true);
  }

  private Scenario laidUp(double minute, double takes, double kg, double pct, boolean gelCoat) {
    sources.add(new Source.Layup(60 * minute, 60 * takes, kg, pct, gelCoat, climate.meanC()));
    return this;
  }

  Scenario wipe(double minute, double grams, double dryingS) {
    sources.add(new Source.Wipe(Vapor.ACETONE, 60 * minute, grams, dryingS));
    return this;
  }

  Scenario source(Source source) {
    sources.add(source);
    return this;
  }

  Scenario open(Vapor vapor, double fromMinute, double toMinute, double mgPerS) {
    return source(new Source.Open(vapor, 60 * fromMinute, 60 * toMinute, mgPerS));
  }

  Scenario fault(Trouble what, double fromMinute, double toMinute, double share) {
    faults.add(new Fault(what, SHOP, 60 * fromMinute, 60 * toMinute, share));
    return this;
  }

  /** A job with fan and respirator, as told; the prediction believes in this air. */
  Scenario job(double fromMinute, double toMinute, double believed) {
    jobs.add(new Job(60 * fromMinute, 60 * toMinute, true, true, believed));
    return this;
  }

  /** A job without fan or respirator, as told. */
  Scenario bareJob(double fromMinute, double toMinute, double believed) {
    jobs.add(new Job(60 * fromMinute, 60 * toMinute, false, false, believed));
    return this;
  }

  Scenario told(double minute, Happening what) {
    told.add(new Told(60 * minute, what));
    return this;
  }

  Scenario cleanAir(double minute) {
    cleanAir.add(new CleanAir(60 * minute));
    return this;
  }

  Scenario climate(
      double meanC, double waveC, double meanPct, double outdoorsC, double outdoorsPct) {
    climate = new Weather.Climate(meanC, waveC, meanPct, outdoorsC, outdoorsPct);
    return this;
  }

  Scenario step(int seconds) {
    stepS = seconds;
    return this;
  }

  Scenario hour(double hourOfDay) {
    startHour = hourOfDay;
    return this;
  }

  Scenario place(double sensor, double breath) {
    sensorNear = sensor;
    breathNear = breath;
    return this;
  }

  Scenario beta(double m3PerMin) {
    betaM3PerMin = m3PerMin;
    return this;
  }

  Scenario startsAt(double ppm) {
    startPpm = ppm;
    return this;
  }

  Scenario limit(double ppm) {
    eightHourPpm = ppm;
    return this;
  }

  Scenario flatAt(double level) {
    endLevel = level;
    return this;
  }

  Scenario poisonedTo(double share) {
    left = share;
    return this;
  }

  Scenario drifted(double ticksTowardVapor) {
    startDrift = ticksTowardVapor;
    return this;
  }

  Scenario cold() {
    coldAtFirst = true;
    return this;
  }

  Scenario withHouse() {
    house = true;
    return this;
  }

  double changesAt(double second) {
    double now = 0;
    for (Change change : changes) {
      if (second >= change.fromS()) {
        now = change.perHour();
      }
    }
    return now;
  }

  boolean has(Trouble what, String device, double second) {
    return faults.stream()
        .anyMatch(one -> one.what() == what && one.device().equals(device) && one.at(second));
  }

  double share(Trouble what, String device, double second) {
    return faults.stream()
        .filter(one -> one.what() == what && one.device().equals(device) && one.at(second))
        .mapToDouble(Fault::share)
        .sum();
  }
}
