package org.layroom.dashboard.mqtt;

/** What the link hands on. All calls must return soon. */
public interface LinkListener {

  /** The link is up. Called once for each connection, before its first message. */
  void connected();

  /** The link is down; it is tried again by itself. */
  void disconnected();

  /**
   * A message. May wait a few seconds to hold the broker back.
   *
   * @param retained whether the broker had kept it from before this connection
   * @param acknowledge to be called from any thread once the message is safe; does nothing when the
   *     connection it came by is gone, because the broker then sends the message again
   * @return false when the message is not taken: the link asks for it again later
   */
  boolean arrived(String topic, byte[] body, boolean retained, Runnable acknowledge);
}
