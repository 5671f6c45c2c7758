package org.layroom.dashboard.recording;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.time.temporal.TemporalAccessor;
import java.util.Optional;
import java.util.regex.Pattern;

/** ISO 8601 times and days; one without an offset is taken in a given zone. */
public final class IsoTimes {
  private static final Pattern DAY = Pattern.compile("\\d{4}-\\d{2}-\\d{2}");

  private IsoTimes() {}

  /**
   * Where a stretch of time begins: at a time, or with a whole day.
   *
   * @throws IllegalArgumentException when it is neither
   */
  public static Instant start(String text, ZoneId zone) {
    return day(text)
        .map(day -> day.atStartOfDay(zone).toInstant())
        .orElseGet(() -> parse(text, zone));
  }

  /**
   * Where a stretch of time ends, not included: at a time, or after a whole day.
   *
   * @throws IllegalArgumentException when it is neither
   */
  public static Instant end(String text, ZoneId zone) {
    return day(text)
        .map(day -> day.plusDays(1).atStartOfDay(zone).toInstant())
        .orElseGet(() -> parse(text, zone));
  }

  private static Optional<LocalDate> day(String text) {
    try {
      return DAY.matcher(text.strip()).matches()
          ? Optional.of(LocalDate.parse(text.strip()))
          : Optional.empty();
    } catch (DateTimeException e) {
      throw new IllegalArgumentException("day \"" + text + "\" is not in the calendar", e);
    }
  }

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
          "time \"" + text + "\" is not ISO 8601; enter it as 2026-03-01T18:30:00", e);
    }
  }
}
