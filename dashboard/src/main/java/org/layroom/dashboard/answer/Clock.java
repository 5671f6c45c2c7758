package org.layroom.dashboard.answer;

import java.time.Instant;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/**
 * Clock times as a person says them: {@code Sun noon}, {@code Sat 4 a.m.}, {@code Sat 4:30 p.m.}
 */
final class Clock {
  private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEE", Locale.US);

  private Clock() {}

  /** A time as the end of a sentence, with one full stop. */
  static String ending(String words) {
    return words.endsWith(".") ? words : words + ".";
  }

  /** Day and time, to the nearest full hour. */
  static String about(Instant time, ZoneId zone) {
    return at(
        Instant.ofEpochSecond(Math.floorDiv(time.getEpochSecond() + 1800, 3600) * 3600), zone);
  }

  /** Day and time to the minute. */
  static String at(Instant time, ZoneId zone) {
    ZonedDateTime local = time.atZone(zone);
    String minute = local.getMinute() == 0 ? "" : ":%02d".formatted(local.getMinute());
    int hour = local.getHour() % 12 == 0 ? 12 : local.getHour() % 12;
    String clock = hour + minute + (local.getHour() < 12 ? " a.m." : " p.m.");
    if (minute.isEmpty() && hour == 12) {
      clock = local.getHour() == 0 ? "midnight" : "noon";
    }
    return DAY.format(local) + " " + clock;
  }
}
