package org.layroom.device.emulated;

import com.pi4j.Pi4J;
import com.pi4j.context.Context;
import java.nio.charset.StandardCharsets;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;

/**
 * What a start of the device is measured against: opens Pi4J and Paho, publishes once, and ends.
 */
final class BareProgram {
  static final String TOPIC = "bare/up";

  private BareProgram() {}

  public static void main(String[] broker) throws MqttException {
    Context context = Pi4J.newContextBuilder().autoDetectPlatforms().autoDetectProviders().build();
    MqttClient client = new MqttClient(broker[0], "bare", new MemoryPersistence());
    client.connect();
    client.publish(TOPIC, "up".getBytes(StandardCharsets.UTF_8), 1, false);
    client.disconnect();
    client.close();
    context.shutdown();
  }
}
