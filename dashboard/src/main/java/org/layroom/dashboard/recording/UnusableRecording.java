package org.layroom.dashboard.recording;

/** A file that is no recording at all, with what to change. */
public final class UnusableRecording extends Exception {
  public UnusableRecording(String reason) {
    super(reason);
  }

  public UnusableRecording(String reason, Throwable cause) {
    super(reason, cause);
  }
}
