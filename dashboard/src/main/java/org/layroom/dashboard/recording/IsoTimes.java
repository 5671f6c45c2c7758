package org.layroom.dashboard.recording;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.time.temporal.TemporalAccessor;

/** ISO 8601 times; one without an offset is taken in a given zone. */
public final class IsoTimes {
  private IsoTimes() {}

  /**
   * The instant of a text such as {@code 2015-02-04T17:51:00}, {@code 2015-02-04T17:51Z} or {@code
   * 2015-02-04T17:51:00+01:00}; a space may stand for the T.
   *
   * @throws IllegalArgumentException when it is no such time
   */
  public static Instant parse(String text, ZoneId zone) {
    try {
      TemporalAccessor time =
          DateTimeFormatter.ISO_DATE_TIME.parseBest(
              text.strip().replaceFirst("^(\\d{4}-\\d{2}-\\d{2}) +", "$1T"),
              OffsetDateTime::from,
              LocalDateTime::from);
      if (time instanceof OffsetDateTime withOffset) {
        return withOffset.toInstant();
      }
      return ((LocalDateTime) time).atZone(zone).toInstant();
    } catch (DateTimeException e) {
      throw new IllegalArgumentException(
          "time \"" + text + "\" is not ISO 8601; write it as 2026-03-01T18:30:00", e);
    }
  }
}
