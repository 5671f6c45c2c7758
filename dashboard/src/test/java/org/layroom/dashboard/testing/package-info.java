/**
 * What the dashboard's tests share: real time, a real outside broker, a device with an outbox.
 *
 * <p>Who may call in: tests only.
 */
@NullMarked
package org.layroom.dashboard.testing;

import org.jspecify.annotations.NullMarked;
