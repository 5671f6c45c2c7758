package org.layroom.dashboard.answer;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/**
 * Clock times in sentences, by one rule: {@code 7:44 PM} on the same day, {@code Sun 1:30 PM} on
 * another, {@code Dec 6, 1:30 PM} over six days away. The page turns them into 24-hour times where
 * its reader wants those.
 */
public final class ClockTimes {
  private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("h:mm a", Locale.US);
  private static final DateTimeFormatter OTHER_DAY =
      DateTimeFormatter.ofPattern("EEE h:mm a", Locale.US);
  private static final DateTimeFormatter FAR_DAY =
      DateTimeFormatter.ofPattern("MMM d, h:mm a", Locale.US);
  private static final Duration NEAR = Duration.ofDays(6);
  private static final Duration FINE = Duration.ofHours(1);
  private static final Duration MIDDLE = Duration.ofHours(6);

  private ClockTimes() {}

  /** A time to the minute, as it is told at {@code now}. */
  public static String at(Instant time, Instant now, ZoneId zone) {
    ZonedDateTime local = time.atZone(zone);
    if (Duration.between(now, time).abs().compareTo(NEAR) > 0) {
      return FAR_DAY.format(local);
    }
    boolean today = local.toLocalDate().equals(now.atZone(zone).toLocalDate());
    return (today ? TIME : OTHER_DAY).format(local);
  }

  /** A forecast time: to 1 min within an hour, to 5 min within six hours, else to 10 min. */
  public static String about(Instant time, Instant now, ZoneId zone) {
    Duration ahead = Duration.between(now, time).abs();
    long step = 60L * (ahead.compareTo(FINE) < 0 ? 1 : ahead.compareTo(MIDDLE) < 0 ? 5 : 10);
    long rounded = Math.floorDiv(time.getEpochSecond() + step / 2, step) * step;
    return at(Instant.ofEpochSecond(rounded), now, zone);
  }
}
