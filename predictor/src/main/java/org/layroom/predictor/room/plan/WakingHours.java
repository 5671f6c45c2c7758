package org.layroom.predictor.room.plan;

import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;

/**
 * The hours in which someone is there to work, the same every day.
 *
 * @param from first hour of the day
 * @param until end of the day; may lie after midnight; not equal to {@code from}
 * @param zone where
 */
public record WakingHours(LocalTime from, LocalTime until, ZoneId zone) {
  public WakingHours {
    if (from.equals(until)) {
      throw new IllegalArgumentException("waking hours from and until " + from + " must differ");
    }
  }

  /** Whether someone is up at a time. */
  public boolean contains(Instant time) {
    LocalTime clock = time.atZone(zone).toLocalTime();
    boolean afterFrom = !clock.isBefore(from);
    boolean beforeUntil = clock.isBefore(until);
    return from.isBefore(until) ? afterFrom && beforeUntil : afterFrom || beforeUntil;
  }

  /** The first time from one on at which someone is up. */
  public Instant next(Instant time) {
    if (contains(time)) {
      return time;
    }
    ZonedDateTime morning = time.atZone(zone).with(from);
    Instant first = morning.toInstant();
    return first.isBefore(time) ? morning.plusDays(1).toInstant() : first;
  }
}
