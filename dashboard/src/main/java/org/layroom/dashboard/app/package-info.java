/**
 * The composition root: which parts make a running dashboard or demo, started and stopped in order.
 *
 * <p>Only {@code cli} imports it. Never computes an answer.
 */
@NullMarked
package org.layroom.dashboard.app;

import org.jspecify.annotations.NullMarked;
