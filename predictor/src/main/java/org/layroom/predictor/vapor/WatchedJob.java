package org.layroom.predictor.vapor;

import java.time.Instant;

/**
 * A job as far as the air is concerned.
 *
 * @param until when it is over at the latest
 * @param quiet fan and respirator were promised
 */
public record WatchedJob(Instant start, Instant until, String who, boolean quiet) {}
