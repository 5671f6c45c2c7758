package org.layroom.dashboard.store.sqlite;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.layroom.device.telemetry.Series;

/**
 * The series that have a column of their own in the reading table. All others go in {@code extra}.
 */
public final class Columns {
  /** Series name to column name, in table order. */
  public static final Map<String, String> BY_SERIES = bySeries();

  private Columns() {}

  private static Map<String, String> bySeries() {
    Map<String, String> columns = new LinkedHashMap<>();
    for (String series :
        new String[] {
          Series.TEMPERATURE,
          Series.HUMIDITY,
          Series.MOLD_TEMPERATURE,
          Series.RESIN_TEMPERATURE,
          Series.PRESSURE,
          Series.VOC_RAW,
          Series.VOC_LEVEL,
          Series.STYRENE_ESTIMATE
        }) {
      columns.put(series, series.replace('-', '_'));
    }
    return columns;
  }

  /**
   * The SQL expression of the good values of a series in the reading table: a column, or a path
   * into {@code extra}. Series names are checked, so nothing can break out of the path.
   */
  static String expression(String series) {
    return Optional.ofNullable(BY_SERIES.get(series))
        .orElseGet(() -> "json_extract(extra, '$.\"" + checked(series) + "\".v')");
  }

  /** The contract's unit of a series with a column. */
  static String unit(String series) {
    return switch (series) {
      case Series.TEMPERATURE, Series.MOLD_TEMPERATURE, Series.RESIN_TEMPERATURE -> Series.CELSIUS;
      case Series.HUMIDITY -> Series.RELATIVE_HUMIDITY;
      case Series.PRESSURE -> Series.PASCAL;
      case Series.VOC_LEVEL, Series.STYRENE_ESTIMATE -> Series.RATIO;
      default -> Series.NO_UNIT;
    };
  }

  private static String checked(String series) {
    if (!series.matches("[A-Za-z0-9:./_-]{1,64}")) {
      throw new IllegalArgumentException(
          "series \"" + series + "\": use 1 to 64 letters, digits and : . / _ -");
    }
    return series;
  }
}
