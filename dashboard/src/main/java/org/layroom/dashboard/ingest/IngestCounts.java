package org.layroom.dashboard.ingest;

import java.util.Map;

/**
 * What has come in since the start.
 *
 * @param messages all messages taken in, good or not
 * @param samples samples that were new to the store
 * @param duplicates entries that the store had already
 * @param corrected samples whose device clock was wrong
 * @param refused by reason; reasons that never happened count 0
 */
public record IngestCounts(
    long messages, long samples, long duplicates, long corrected, Map<Rejection, Long> refused) {
  public IngestCounts {
    refused = Map.copyOf(refused);
  }

  public long refused(Rejection reason) {
    return refused.getOrDefault(reason, 0L);
  }
}
