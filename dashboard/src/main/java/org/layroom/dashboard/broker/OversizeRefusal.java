package org.layroom.dashboard.broker;

import io.netty.handler.codec.mqtt.MqttMessage;
import io.netty.handler.codec.mqtt.MqttPublishMessage;
import org.apache.activemq.artemis.core.protocol.mqtt.MQTTInterceptor;
import org.apache.activemq.artemis.spi.core.protocol.RemotingConnection;
import org.layroom.device.telemetry.Topic;

/** Keeps messages above the contract's largest size out of the broker and away from clients. */
final class OversizeRefusal implements MQTTInterceptor {
  private final RefusalLog log;

  OversizeRefusal(RefusalLog log) {
    this.log = log;
  }

  @Override
  public boolean intercept(MqttMessage packet, RemotingConnection connection) {
    if (packet instanceof MqttPublishMessage publish
        && publish.payload().readableBytes() > Topic.LARGEST_MESSAGE_BYTES) {
      log.add(
          RefusalLog.Reason.LARGE_PACKET,
          publish.payload().readableBytes() + " bytes from " + connection.getRemoteAddress());
      return false;
    }
    return true;
  }
}
