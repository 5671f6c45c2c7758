package org.layroom.dashboard.broker;

import java.net.URI;

/** A message broker that the dashboard itself starts and stops. */
public interface Broker extends AutoCloseable {

  /**
   * Opens the port.
   *
   * @throws BrokerFailure when the port is taken or the engine does not start; says what to do
   */
  void start();

  /**
   * Starts again on the same port when the engine has stopped by itself; to be called every few
   * seconds. What cannot be started yet is said once and tried again with the next call.
   */
  void lookAfter();

  /**
   * Where clients on this machine connect, with the real port.
   *
   * @throws IllegalStateException before {@link #start()}
   */
  URI uri();

  /** Whether the port for devices is an encrypted one; {@link #uri()} is then not that port. */
  boolean encrypted();

  /** The port for devices; 0 before {@link #start()} when any was asked for. */
  int port();

  /** Stops the broker. Retained messages and sessions end with it. */
  @Override
  void close();
}
