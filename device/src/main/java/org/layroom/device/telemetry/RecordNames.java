package org.layroom.device.telemetry;

import java.util.Set;

/** The names of the records beside a sample's readings in a {@code readings} message. */
final class RecordNames {
  static final String OUTBOX = "outbox";
  static final String SEQUENCE = "sequence";
  static final String UPTIME = "uptime";
  static final String SENT_UPTIME = "sent-uptime";
  static final String LOST_FIRST = "sequence-lost-first";
  static final String LOST_LAST = "sequence-lost-last";
  static final String QUALITY_SUFFIX = "-quality";

  /** Records that say where a sample stands, and are no readings. */
  static final Set<String> POSITIONAL =
      Set.of(OUTBOX, SEQUENCE, UPTIME, SENT_UPTIME, LOST_FIRST, LOST_LAST);

  private RecordNames() {}
}
