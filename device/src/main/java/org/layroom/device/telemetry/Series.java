package org.layroom.device.telemetry;

/** Names and SenML units (RFC 8428 section 12.1) of the readings that every device shares. */
public final class Series {
  public static final String TEMPERATURE = "temperature";
  public static final String HUMIDITY = "humidity";
  public static final String MOLD_TEMPERATURE = "mold-temperature";
  public static final String RESIN_TEMPERATURE = "resin-temperature";
  public static final String PRESSURE = "pressure";
  public static final String VOC_RAW = "voc-raw";
  public static final String VOC_LEVEL = "voc-level";
  public static final String STYRENE_ESTIMATE = "styrene-estimate";

  /** A detector's own reading, as if all vapor were isobutylene. */
  public static final String ISOBUTYLENE = "isobutylene";

  /** What a detector's analog output shows. */
  public static final String PID_VOLTAGE = "pid-voltage";

  public static final String CELSIUS = "Cel";
  public static final String RELATIVE_HUMIDITY = "%RH";
  public static final String PASCAL = "Pa";
  public static final String VOLT = "V";
  public static final String RATIO = "/";
  public static final String NO_UNIT = "";

  private Series() {}

  /** Whether values of a series can be compared with a reference and corrected by it. */
  public static boolean correctable(String series) {
    return series.equals(TEMPERATURE)
        || series.equals(HUMIDITY)
        || series.equals(RESIN_TEMPERATURE)
        || series.equals(MOLD_TEMPERATURE)
        || series.startsWith(MOLD_TEMPERATURE + "/");
  }
}
