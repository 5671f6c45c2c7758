package org.layroom.device.telemetry;

import java.util.Locale;

/**
 * The newest plain values of a room, {@code layroom-now/<room>/<value>}, retained, for hubs and
 * scripts that read no SenML; an empty message where a value is unknown or old. There is no mix
 * check among them: a dashboard that has died could not take it back.
 */
public enum PlainTopic {
  /** Air temperature, degC, one decimal. */
  TEMPERATURE,
  /** Relative humidity, %, whole. */
  HUMIDITY,
  /** Temperature of the only mold, degC, one decimal; those of several stand one level deeper. */
  MOLD_TEMPERATURE,
  /** Times clean air, one decimal; not a styrene measurement. */
  VOC_LEVEL,
  /** What the air calls for while a warning stands: unknown, ventilate or leave. */
  WARNING,
  /** When the newest reading was taken: ISO 8601, UTC, whole minutes. */
  UPDATED;

  /** The first level: no room and no device has this name. */
  public static final String ROOT = "layroom-now";

  /** The name of this value. */
  public String lastLevel() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  /** The topic of this value in a room. */
  public String in(RoomName room) {
    return ROOT + "/" + room + "/" + lastLevel();
  }
}
