package org.layroom.dashboard.store;

import java.util.List;

/**
 * What a committed batch changed.
 *
 * @param fresh for each entry of the batch, whether it was not there before
 * @param marks the stored mark of every outbox the batch spoke of
 */
public record AppendResult(List<Boolean> fresh, List<OutboxMark> marks) {
  public AppendResult {
    fresh = List.copyOf(fresh);
    marks = List.copyOf(marks);
  }
}
