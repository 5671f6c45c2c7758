package org.layroom.dashboard.store;

import java.util.List;

/**
 * A damaged store that was set aside and rebuilt from what was whole.
 *
 * @param problem what was wrong, in SQLite's words
 * @param setAside name of the damaged file in the data folder
 * @param rowsKept how many rows were read
 * @param lost in words, what could not be read; empty when every row was
 */
public record RepairReport(String problem, String setAside, long rowsKept, List<String> lost) {
  public RepairReport {
    lost = List.copyOf(lost);
  }

  /** What a person is told. */
  public String words() {
    return "The store of readings and parts was damaged when Layroom started. It was moved to "
        + setAside
        + " and rebuilt from all "
        + rowsKept
        + " rows that could be read. "
        + (lost.isEmpty()
            ? "Nothing is missing."
            : "Missing: " + String.join("; ", lost) + ". A backup may contain it.")
        + " The memory card may be failing: make a backup and consider replacing the card.";
  }
}
