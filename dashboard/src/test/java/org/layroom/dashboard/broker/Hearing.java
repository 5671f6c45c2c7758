package org.layroom.dashboard.broker;

import java.nio.charset.StandardCharsets;
import java.util.Queue;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.MqttCallback;
import org.eclipse.paho.client.mqttv3.MqttMessage;

/** Keeps the text of every message. */
final class Hearing implements MqttCallback {
  private final Queue<String> heard;

  Hearing(Queue<String> heard) {
    this.heard = heard;
  }

  @Override
  public void connectionLost(Throwable cause) {}

  @Override
  public void messageArrived(String topic, MqttMessage message) {
    heard.add(new String(message.getPayload(), StandardCharsets.UTF_8));
  }

  @Override
  public void deliveryComplete(IMqttDeliveryToken token) {}
}
