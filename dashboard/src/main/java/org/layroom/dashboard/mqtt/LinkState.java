package org.layroom.dashboard.mqtt;

import java.util.Optional;

/**
 * How the link does, for the page and for {@code /healthz}.
 *
 * @param connects how often it has connected since the start
 * @param deafRestarts how often it was connected but heard nothing, and was restarted
 * @param trouble what stands in the way now, in words
 */
public record LinkState(
    boolean connected, long connects, long deafRestarts, Optional<String> trouble) {}
