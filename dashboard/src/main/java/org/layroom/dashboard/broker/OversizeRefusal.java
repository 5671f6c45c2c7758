package org.layroom.dashboard.broker;

import io.netty.handler.codec.mqtt.MqttMessage;
import io.netty.handler.codec.mqtt.MqttPublishMessage;
import java.util.concurrent.atomic.AtomicLong;
import org.apache.activemq.artemis.core.protocol.mqtt.MQTTInterceptor;
import org.apache.activemq.artemis.spi.core.protocol.RemotingConnection;
import org.layroom.device.telemetry.Topic;
import org.tinylog.Logger;

/** Keeps messages above the contract's largest size out of the broker and away from clients. */
final class OversizeRefusal implements MQTTInterceptor {
  private final AtomicLong refused = new AtomicLong();

  @Override
  public boolean intercept(MqttMessage packet, RemotingConnection connection) {
    if (packet instanceof MqttPublishMessage publish
        && publish.payload().readableBytes() > Topic.LARGEST_MESSAGE_BYTES) {
      if (Long.bitCount(refused.incrementAndGet()) == 1) {
        Logger.warn(
            "Broker refused a message of {} bytes from {} (refused so far: {})",
            publish.payload().readableBytes(),
            connection.getRemoteAddress(),
            refused.get());
      }
      return false;
    }
    return true;
  }
}
