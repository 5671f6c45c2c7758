package org.layroom.dashboard.store;

/** The store cannot be opened or written, with what to do about it in words. */
public final class StoreFailure extends RuntimeException {
  public StoreFailure(String message) {
    super(message);
  }

  public StoreFailure(String message, Throwable cause) {
    super(message, cause);
  }
}
