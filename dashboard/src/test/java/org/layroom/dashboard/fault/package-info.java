/**
 * The fault campaign: one test for each fault, which says what was promised and writes down what
 * happened. A short form runs with the other tests, the long form with {@code .ci/faults}.
 *
 * <p>Who may call in: nobody. It goes through the same doors as devices, brokers and people, and
 * never reaches into the rooms that it tests.
 */
@NullMarked
package org.layroom.dashboard.fault;

import org.jspecify.annotations.NullMarked;
