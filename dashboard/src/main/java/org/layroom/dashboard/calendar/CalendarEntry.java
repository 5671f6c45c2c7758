package org.layroom.dashboard.calendar;

import java.time.Instant;

/**
 * One event of a calendar.
 *
 * @param uid the same for ever
 * @param sequence grows by one when the event has moved or was called off
 * @param changed when it was last changed
 * @param from in UTC
 * @param until after from
 * @param canceled called off: shown so for a week
 */
record CalendarEntry(
    String uid,
    int sequence,
    Instant changed,
    Instant from,
    Instant until,
    String summary,
    String description,
    boolean canceled) {}
