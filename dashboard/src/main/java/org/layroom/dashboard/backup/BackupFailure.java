package org.layroom.dashboard.backup;

/** A backup cannot be made or used, with what to do about it in words. */
public final class BackupFailure extends RuntimeException {
  public BackupFailure(String message) {
    super(message);
  }

  public BackupFailure(String message, Throwable cause) {
    super(message, cause);
  }
}
