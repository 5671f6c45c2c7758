/** Tests of the calendars, read back with two outside libraries. */
@NullMarked
package org.layroom.dashboard.calendar;

import org.jspecify.annotations.NullMarked;
