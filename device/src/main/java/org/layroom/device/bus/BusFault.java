package org.layroom.device.bus;

/** Bytes did not get through a bus, with the reason in words for the person in the shop. */
public final class BusFault extends Exception {
  public BusFault(String reason) {
    super(reason);
  }

  public BusFault(String reason, Throwable cause) {
    super(reason, cause);
  }

  /** The reason in words. */
  public String reason() {
    return String.valueOf(getMessage());
  }
}
