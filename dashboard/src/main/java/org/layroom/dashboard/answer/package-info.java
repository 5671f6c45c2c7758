/**
 * Answers: one place that the command line, HTTP and MQTT all ask, so that all say the same.
 *
 * <p>What this room never does: parse arguments, open files or talk to anybody.
 */
@NullMarked
package org.layroom.dashboard.answer;

import org.jspecify.annotations.NullMarked;
