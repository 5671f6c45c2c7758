package org.layroom.dashboard.announce;

import java.time.Instant;
import org.layroom.device.telemetry.RoomName;

/**
 * What is told.
 *
 * @param event warning-raised, warning-ended, part or test
 * @param title a few words
 * @param words one or two sentences
 */
record Announcement(RoomName room, String event, String title, String words, Instant time) {}
