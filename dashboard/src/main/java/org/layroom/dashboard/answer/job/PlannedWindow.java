package org.layroom.dashboard.answer.job;

import java.time.Instant;
import java.util.Optional;

/**
 * A window of a part that is on its way, as a calendar shows it.
 *
 * @param id the same for as long as the part lives, whenever the window moves
 * @param part what is made
 * @param title what to do, in a few words
 * @param from the earliest
 * @param until the latest; after from
 * @param likely when it likely opens, where that is within sight
 * @param words one or two sentences
 */
public record PlannedWindow(
    String id,
    String part,
    String title,
    Instant from,
    Instant until,
    Optional<Instant> likely,
    String words) {}
