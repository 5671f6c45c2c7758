/**
 * Warnings about the air: one watch for each device that measures vapor, fed with stored live
 * readings only; which warnings are open and who has seen them.
 *
 * <p>A warning walks from a stored sample through the watch, the log and what is settled of it to
 * what is told: {@code AirWarnings}, {@code Watches}, {@code WarningSteps}, {@code
 * WarningPublisher}. What is told to devices goes out by {@code decision}.
 *
 * <p>Never raises a warning for an old reading, shows unknown as ok, tells ppm of a metal-oxide
 * chip, or keeps a device from sounding its own alarm.
 */
@NullMarked
package org.layroom.dashboard.warning;

import org.jspecify.annotations.NullMarked;
