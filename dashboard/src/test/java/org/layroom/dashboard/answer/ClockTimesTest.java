package org.layroom.dashboard.answer;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.LocalDateTime;
import java.time.ZoneId;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The examples of the rule on clock times; the days of the week are those of the calendar. */
class ClockTimesTest {
  private static final ZoneId ZONE = ZoneId.of("America/Chicago");

  @ParameterizedTest
  @CsvSource({
    "2026-11-30T12:00, 2026-11-30T19:44, 7:44 PM",
    "2026-11-30T12:00, 2026-11-30T00:05, 12:05 AM",
    "2026-11-30T12:00, 2026-12-06T11:30, Sun 11:30 AM",
    "2026-11-30T12:00, 2026-12-06T13:30, 'Dec 6, 1:30 PM'",
    "2026-11-30T23:50, 2026-12-01T00:10, Tue 12:10 AM",
    "2026-11-30T12:00, 2026-11-01T09:00, 'Nov 1, 9:00 AM'",
  })
  void aTimeIsToldByHowFarAwayItIs(String now, String time, String words) {
    assertEquals(
        words,
        ClockTimes.at(
            LocalDateTime.parse(time).atZone(ZONE).toInstant(),
            LocalDateTime.parse(now).atZone(ZONE).toInstant(),
            ZONE));
  }

  @ParameterizedTest
  @CsvSource({
    "2026-11-30T12:00, 2026-11-30T12:43, 12:43 PM",
    "2026-11-30T12:00, 2026-11-30T13:43, 1:45 PM",
    "2026-11-30T12:00, 2026-11-30T19:44, 7:40 PM",
    "2026-11-30T12:00, 2026-11-30T23:57, Tue 12:00 AM",
  })
  void aForecastIsRoundedMoreTheFurtherItIsAway(String now, String time, String words) {
    assertEquals(
        words,
        ClockTimes.about(
            LocalDateTime.parse(time).atZone(ZONE).toInstant(),
            LocalDateTime.parse(now).atZone(ZONE).toInstant(),
            ZONE));
  }
}
