/**
 * What is planned in a room, for the calendar of a phone: iCalendar (RFC 5545), written by hand,
 * since what is needed of it is small.
 *
 * <p>Calendars fetch when they like, hours apart: never the only way to hear of a warning.
 */
@NullMarked
package org.layroom.dashboard.calendar;

import org.jspecify.annotations.NullMarked;
