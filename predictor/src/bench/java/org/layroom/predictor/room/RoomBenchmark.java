package org.layroom.predictor.room;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.layroom.predictor.bench.Scores;
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
 * The room forecast from 30 days of one-minute readings of air, humidity and mold: learning, the
 * 72-hour ensemble of 256 paths of all three, and learning from twice as many days, to see how it
 * grows. The yardstick is one exponential for each path and step of the ensemble. Run with {@code
 * mvn -B -P bench -pl predictor verify}.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
public class RoomBenchmark {
  private static final int DAYS = 30;
  private static final Duration LENGTH = Duration.ofDays(3);
  private static final int STEPS = 72 * SlotSeries.PER_HOUR;

  private final List<RoomReading> twice =
      new SyntheticRoom(SyntheticRoom.Heating.BY_HAND, 5).days(2 * DAYS, 1, false);
  private final List<RoomReading> readings = twice.subList(0, twice.size() / 2);
  private final RoomForecaster learned = learn(readings);

  private static RoomForecaster learn(List<RoomReading> readings) {
    RoomForecaster forecaster = new RoomForecaster();
    readings.forEach(forecaster::add);
    return forecaster;
  }

  private static Instant last(List<RoomReading> readings) {
    return readings.get(readings.size() - 1).time();
  }

  /** Learns the room. */
  @Benchmark
  public RoomForecaster learn() {
    return learn(readings);
  }

  /** Learns twice as long a history. */
  @Benchmark
  public RoomForecaster learnTwice() {
    return learn(twice);
  }

  /** The ensemble of a room that has been learned. */
  @Benchmark
  public RoomAnswer ensemble() {
    return learned.forecast(last(readings), LENGTH);
  }

  /** The yardstick. */
  @Benchmark
  public double bareExponentials() {
    double sum = 0;
    for (int path = 0; path < 3 * RoomForecaster.PATHS; path++) {
      for (int step = 0; step < STEPS; step++) {
        sum += StrictMath.exp(-1e-3 * (path + step));
      }
    }
    return sum;
  }

  /** Runs all and prints what matters. */
  public static void main(String[] args) throws RunnerException {
    Map<String, Double> scores = Scores.of(RoomBenchmark.class);
    double learn = scores.getOrDefault("learn", Double.NaN);
    double learnTwice = scores.getOrDefault("learnTwice", Double.NaN);
    double ensemble = scores.getOrDefault("ensemble", Double.NaN);
    double bare = scores.getOrDefault("bareExponentials", Double.NaN);
    System.out.printf(
        Locale.ROOT,
        "30 days of one-minute readings: learning %.0f ms (%.1f microseconds a reading), ensemble"
            + " %.0f ms, together %.0f ms; 60 days: learning %.2f times as long; bare exponentials"
            + " %.1f ms, ensemble %.1f of them%n",
        learn,
        1000 * learn / (DAYS * 1440),
        ensemble,
        learn + ensemble,
        learnTwice / learn,
        bare,
        ensemble / bare);
  }
}
