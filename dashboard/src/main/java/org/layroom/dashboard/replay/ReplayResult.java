package org.layroom.dashboard.replay;

import java.time.LocalDate;
import java.util.List;
import org.layroom.dashboard.recording.BadRow;

/**
 * What came of a replay.
 *
 * @param rows rows that were measured
 * @param bad rows that were left out, with line and reason
 * @param stored samples of the recording in the store afterwards
 * @param allStored whether the device was told that everything is stored
 * @param days each day of each series, from the file and from the store
 */
public record ReplayResult(
    long rows, List<BadRow> bad, long stored, boolean allStored, List<DayLine> days) {
  public ReplayResult {
    bad = List.copyOf(bad);
    days = List.copyOf(days);
  }

  /** Count, least, mean and greatest. */
  public record Figures(long n, double min, double mean, double max) {}

  /** One day of one series, as the file has it and as the store has it. */
  public record DayLine(LocalDate day, String series, String unit, Figures file, Figures store) {
    /** The largest difference of least, mean or greatest, in the series' unit. */
    public double largestDifference() {
      return Math.max(
          Math.abs(file.min - store.min),
          Math.max(Math.abs(file.mean - store.mean), Math.abs(file.max - store.max)));
    }
  }

  /** Whether every row that could be measured is in the store once. */
  public boolean complete() {
    return allStored && stored == rows && days.stream().allMatch(d -> d.file.n == d.store.n);
  }
}
