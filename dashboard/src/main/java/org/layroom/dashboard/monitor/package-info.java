/**
 * What a monitor of the house asks: whether the dashboard is ready, and its figures in the open
 * text format (OpenMetrics 1.0 and its forerunner).
 *
 * <p>Never gives a figure where the honest answer is "unknown": such a series is absent.
 */
@NullMarked
package org.layroom.dashboard.monitor;

import org.jspecify.annotations.NullMarked;
