package org.layroom.dashboard.warning;

import java.time.Duration;

/**
 * How one device's air is watched.
 *
 * @param full nothing quiets its warnings: it stands on the house side, or does not speak for the
 *     layup room
 * @param longestSilence without a reading for this long its air is unknown
 */
record WatchRules(AirSettings settings, boolean full, Duration longestSilence) {}
