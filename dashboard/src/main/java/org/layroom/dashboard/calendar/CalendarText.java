package org.layroom.dashboard.calendar;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;

/**
 * Events as iCalendar (RFC 5545): lines end with CR and LF and are folded at 75 octets (3.1), text
 * is escaped (3.3.11), times are in UTC (3.3.5). There is no METHOD, which would make an organizer
 * required (RFC 5546). Each event that is not called off rings when it begins.
 */
final class CalendarText {
  private static final int LONGEST_LINE_OCTETS = 75;
  private static final DateTimeFormatter UTC =
      DateTimeFormatter.ofPattern("yyyyMMdd'T'HHmmss'Z'").withZone(ZoneOffset.UTC);

  private final StringBuilder text = new StringBuilder();

  private CalendarText() {}

  /** A whole calendar. */
  static String of(String name, List<CalendarEntry> entries) {
    CalendarText calendar = new CalendarText();
    calendar.line("BEGIN:VCALENDAR");
    calendar.line("VERSION:2.0");
    calendar.line("PRODID:-//layroom.org//Layroom//EN");
    calendar.line("NAME:" + escaped(name));
    calendar.line("X-WR-CALNAME:" + escaped(name));
    calendar.line("REFRESH-INTERVAL;VALUE=DURATION:PT15M");
    calendar.line("X-PUBLISHED-TTL:PT15M");
    if (entries.isEmpty()) {
      calendar.utc();
    }
    entries.forEach(calendar::event);
    calendar.line("END:VCALENDAR");
    return calendar.text.toString();
  }

  /** A calendar holds at least one component (3.4), also when nothing is planned. */
  private void utc() {
    line("BEGIN:VTIMEZONE");
    line("TZID:Etc/UTC");
    line("BEGIN:STANDARD");
    line("DTSTART:19700101T000000");
    line("TZOFFSETFROM:+0000");
    line("TZOFFSETTO:+0000");
    line("END:STANDARD");
    line("END:VTIMEZONE");
  }

  private void event(CalendarEntry entry) {
    line("BEGIN:VEVENT");
    line("UID:" + entry.uid());
    line("DTSTAMP:" + time(entry.changed()));
    line("LAST-MODIFIED:" + time(entry.changed()));
    line("SEQUENCE:" + entry.sequence());
    line("DTSTART:" + time(entry.from()));
    line("DTEND:" + time(entry.until()));
    line("SUMMARY:" + escaped(entry.summary()));
    line("DESCRIPTION:" + escaped(entry.description()));
    line("STATUS:" + (entry.canceled() ? "CANCELLED" : "TENTATIVE"));
    line("TRANSP:TRANSPARENT");
    if (!entry.canceled()) {
      line("BEGIN:VALARM");
      line("UID:" + entry.uid() + "-alarm");
      line("ACTION:DISPLAY");
      line("TRIGGER;RELATED=START:PT0S");
      line("DESCRIPTION:" + escaped(entry.summary()));
      line("END:VALARM");
    }
    line("END:VEVENT");
  }

  private static String time(Instant time) {
    return UTC.format(time);
  }

  private static String escaped(String words) {
    return words
        .replace("\\", "\\\\")
        .replace(";", "\\;")
        .replace(",", "\\,")
        .replace("\r", "")
        .replace("\n", "\\n");
  }

  /** A line goes on in the next one after a space; no character is cut in two. */
  private void line(String line) {
    int octets = 0;
    for (int i = 0; i < line.length(); ) {
      int character = line.codePointAt(i);
      String one = Character.toString(character);
      int more = one.getBytes(StandardCharsets.UTF_8).length;
      if (octets + more > LONGEST_LINE_OCTETS) {
        text.append("\r\n ");
        octets = 1;
      }
      text.append(one);
      octets += more;
      i += Character.charCount(character);
    }
    text.append("\r\n");
  }
}
