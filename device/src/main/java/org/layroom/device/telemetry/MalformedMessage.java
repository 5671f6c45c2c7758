package org.layroom.device.telemetry;

/** A message that does not follow the contract, with the reason in words. */
public final class MalformedMessage extends Exception {
  public MalformedMessage(String reason) {
    super(reason);
  }

  public MalformedMessage(String reason, Throwable cause) {
    super(reason, cause);
  }
}
