package org.layroom.dashboard.broker;

import io.netty.channel.Channel;
import io.netty.handler.codec.mqtt.MqttConnectMessage;

/** Who decides on a connection by what it has said so far. */
interface Gate {
  /** Whether who says this CONNECT comes in; then the engine has the connection. */
  boolean letsIn(MqttConnectMessage connect, Channel channel);

  /** Closes a connection and counts why. */
  void refused(RefusalLog.Reason reason, Channel channel);
}
