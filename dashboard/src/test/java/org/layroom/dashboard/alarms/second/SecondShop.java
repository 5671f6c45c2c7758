package org.layroom.dashboard.alarms.second;

import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.layroom.dashboard.alarms.Moment;
import org.layroom.dashboard.alarms.Sensor;
import org.layroom.dashboard.alarms.Shop;

/** A scenario with one kind of sensor. */
final class SecondShop implements Shop {
  private static final int DAY_S = 86400;

  private final Scenario plot;
  private final String column;
  private final double styrene;
  private final int index;
  private final List<Sensor> sensors;

  /**
   * A cell of the table.
   *
   * @param column what the sensor is called
   * @param styrene a chip's answer to styrene, of that to ethanol; zero for a detector
   * @param index of the cell: what is drawn once for a sensor is spread over the cells by it, since
   *     the judge asks for the sensors before it hands in a seed
   */
  SecondShop(Scenario plot, String column, double styrene, int index) {
    this.plot = plot;
    this.column = column;
    this.styrene = styrene;
    this.index = index;
    sensors =
        plot.house
            ? List.of(sensor(Scenario.SHOP), sensor(Scenario.HOUSE))
            : List.of(sensor(Scenario.SHOP));
  }

  Scenario plot() {
    return plot;
  }

  @Override
  public String scenario() {
    return plot.name;
  }

  @Override
  public String sensitivity() {
    return column;
  }

  @Override
  public double eightHourPpm() {
    return plot.eightHourPpm;
  }

  /** Ten times the eight-hour limit or half of what is immediately dangerous. */
  double dangerPpm() {
    return Math.min(350, 10 * plot.eightHourPpm);
  }

  @Override
  public List<Sensor> sensors() {
    return sensors;
  }

  private Sensor sensor(String device) {
    boolean houseSide = device.equals(Scenario.HOUSE);
    if (styrene == 0) {
      double reads = detector().reading(dangerPpm(), 0, 0, plot.climate.meanPct());
      return new Sensor(device, Sensor.Kind.PID, houseSide, 0, 0.45 * reads, 1);
    }
    Chip.Make make = chip(device);
    return new Sensor(
        device,
        Sensor.Kind.CHIP,
        houseSide,
        make.cleanTicks(),
        make.level(dangerPpm()),
        dailyWander(make));
  }

  boolean isDetector() {
    return styrene == 0;
  }

  /** A number of 0-1 spread evenly over the cells: the fraction of index times an irrational. */
  private double spread(double irrational) {
    double times = (index + 1) * irrational;
    return times - Math.floor(times);
  }

  Chip.Make chip(String device) {
    double exponent = 0.5 + 0.3 * spread(0.6180339887);
    double acetone = 0.3 + 0.7 * spread(0.7548776662);
    double usualEnd =
        Math.pow(1000 / Chip.CLEAN_PPM * (0.5 + 1.5 * spread(0.5698402910)), exponent);
    double other = device.equals(Scenario.HOUSE) ? 311 : 0;
    return new Chip.Make(
        styrene,
        acetone,
        exponent,
        0.05 + 0.1 * spread(0.8191725134),
        0.002 + 0.006 * spread(0.6710436067),
        30 + 50 * spread(0.5497004779),
        plot.startDrift,
        plot.endLevel == 0 ? usualEnd : plot.endLevel,
        plot.left,
        Math.rint(28000 + 4000 * spread(0.4142135624) + other));
  }

  Detector.Make detector() {
    double end = plot.endLevel == 0 ? 2000 : 150; // CHOICE: a module of the small range
    double fouled = plot.left == 1 ? 1 : 0.5 + 0.5 * plot.left;
    return new Detector.Make(0.40 + 0.05 * spread(0.6180339887), end, fouled);
  }

  /** Highest over lowest level of a settled day in clean air: the middle one of five such days. */
  private double dailyWander(Chip.Make make) {
    return Stream.of(1, 2, 3, 4, 5)
        .map(day -> wanderOf(make, new Random(day)))
        .sorted()
        .skip(2)
        .findFirst()
        .orElseThrow();
  }

  private double wanderOf(Chip.Make make, Random random) {
    Chip chip = new Chip(make, plot.climate, random);
    Weather weather = new Weather(plot.climate, random);
    double lowest = Double.MAX_VALUE;
    double highest = 0;
    for (int second = 60; second <= DAY_S; second += 60) {
      weather.go(60, plot.startHour + second / 3600.0, plot.changesAt(0));
      double ticks = chip.read(60, 0, weather.celsius(), weather.humidityPct(), true);
      lowest = Math.min(lowest, ticks);
      highest = Math.max(highest, ticks);
    }
    return Math.pow(2, (highest - lowest) / Chip.TICKS_PER_DOUBLING);
  }

  @Override
  public Stream<Moment> moments(long seed) {
    Course course = new Course(this, seed);
    long steps = 60L * plot.minutes / plot.stepS;
    return Stream.generate(course::next).limit(steps + 1);
  }
}
