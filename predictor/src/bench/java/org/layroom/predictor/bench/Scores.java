package org.layroom.predictor.bench;

import java.util.Map;
import java.util.TreeMap;
import org.openjdk.jmh.results.RunResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.OptionsBuilder;

/** Runs the benchmarks of one class, all in one run, so that their scores can be compared. */
public final class Scores {
  private Scores() {}

  /** The score of each benchmark, by the name of its method. */
  public static Map<String, Double> of(Class<?> benchmarks) throws RunnerException {
    Map<String, Double> scores = new TreeMap<>();
    for (RunResult result :
        new Runner(new OptionsBuilder().include(benchmarks.getSimpleName()).build()).run()) {
      scores.put(
          result.getPrimaryResult().getLabel(), result.getPrimaryResult().getScore());
    }
    return scores;
  }
}
