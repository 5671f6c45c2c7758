package org.layroom.dashboard.store.sqlite;

import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import org.layroom.dashboard.store.Bucket;
import org.layroom.dashboard.store.DaySummary;

/**
 * Count, sum, minimum and maximum of the good values of one series in a stretch of time: a minute,
 * an hour or a day.
 */
public final class Rollup {
  /** Rows that add to what is there. */
  static final String ADD =
      "n = n + excluded.n, sum = sum + excluded.sum, min = min(min, excluded.min),"
          + " max = max(max, excluded.max)";

  /** Rows that take the place of what is there, unless that has counted as much. */
  public static final String FULLER =
      "n = excluded.n, sum = excluded.sum, min = excluded.min, max = excluded.max"
          + " where excluded.n > n";

  /** A device's series in one minute or hour, counted from 1970. */
  record Key(long device, long series, long at) {}

  private long n;
  private double sum;
  private double min = Double.POSITIVE_INFINITY;
  private double max = Double.NEGATIVE_INFINITY;

  void add(double value) {
    n++;
    sum += value;
    min = Math.min(min, value);
    max = Math.max(max, value);
  }

  boolean isEmpty() {
    return n == 0;
  }

  Bucket bucket(Instant from, Instant to) {
    return new Bucket(from, to, min, sum / n, max, n);
  }

  DaySummary summary(LocalDate day) {
    return new DaySummary(day, n, min, sum / n, max);
  }

  void bind(PreparedStatement statement, int first, Key key) throws SQLException {
    statement.setLong(first, key.device());
    statement.setLong(first + 1, key.series());
    statement.setLong(first + 2, key.at());
    statement.setLong(first + 3, n);
    statement.setDouble(first + 4, sum);
    statement.setDouble(first + 5, min);
    statement.setDouble(first + 6, max);
  }
}
