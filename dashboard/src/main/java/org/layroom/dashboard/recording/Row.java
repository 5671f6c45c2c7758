package org.layroom.dashboard.recording;

import java.time.Instant;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * One row of a recording.
 *
 * @param line where it stands in the file, the first line being 1
 * @param values by column name; a cell left empty is not among them
 */
public record Row(long line, Instant time, Map<String, Double> values) {
  public Row {
    values = Map.copyOf(values);
  }

  public OptionalDouble value(String column) {
    Double value = values.get(column);
    return value == null ? OptionalDouble.empty() : OptionalDouble.of(value);
  }
}
