/**
 * Simulated shops, and the judge of the vapor alarm: true air, what the sensors made of it, and
 * what the shipped rule said on the device and on the dashboard. {@code sh .ci/alarms} prints the
 * table.
 *
 * <p>How a second simulation plugs in: write a public class with a public constructor without
 * arguments that implements {@link org.layroom.dashboard.alarms.Shops} and whose {@code name()} is
 * {@code "second"}; add its full name as a line of {@code
 * dashboard/src/test/resources/META-INF/services/org.layroom.dashboard.alarms.Shops}. Then {@code
 * sh .ci/alarms --second} judges its shops. It may use {@link org.layroom.dashboard.alarms.Shop},
 * {@link org.layroom.dashboard.alarms.Moment}, {@link org.layroom.dashboard.alarms.Happening},
 * {@link org.layroom.dashboard.alarms.Sensor} and the JDK, and no model of the predictor: a shop
 * that is built from what is judged proves nothing. Everything random comes from the seed that the
 * judge hands in.
 */
@NullMarked
package org.layroom.dashboard.alarms;

import org.jspecify.annotations.NullMarked;
