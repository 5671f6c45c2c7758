package org.layroom.dashboard.recording;

/**
 * A row that was left out, and why.
 *
 * @param line where it stands in the file, the first line being 1
 */
public record BadRow(long line, String reason) {
  @Override
  public String toString() {
    return "line " + line + ": " + reason;
  }
}
