package org.layroom.dashboard.broker;

/** The built-in broker cannot run, with what to do about it in words. */
public final class BrokerFailure extends RuntimeException {
  public BrokerFailure(String message, Throwable cause) {
    super(message, cause);
  }
}
