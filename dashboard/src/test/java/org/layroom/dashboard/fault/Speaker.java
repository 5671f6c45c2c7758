package org.layroom.dashboard.fault;

import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Topic;

/** A client of MQTT that says anything, at once, and hears what it asks for. */
final class Speaker implements AutoCloseable {
  private static final long PATIENCE_MILLIS = 120_000;
  private static final int MOST_IN_FLIGHT = 200;

  private final MqttAsyncClient client;
  private final ConcurrentLinkedQueue<IMqttDeliveryToken> under = new ConcurrentLinkedQueue<>();

  private Speaker(MqttAsyncClient client) {
    this.client = client;
  }

  static Speaker connected(URI broker, String name, OutboxDevice.Login login) throws MqttException {
    MqttAsyncClient client = new MqttAsyncClient(broker.toString(), name, new MemoryPersistence());
    MqttConnectOptions options = login.options();
    options.setMaxInflight(2 * MOST_IN_FLIGHT);
    client.connect(options).waitForCompletion(PATIENCE_MILLIS);
    return new Speaker(client);
  }

  /** Publishes with QoS 1; waits only while many are under way. */
  void say(String topic, byte[] body, boolean retained) throws MqttException {
    under.add(client.publish(topic, body, 1, retained));
    while (under.size() >= MOST_IN_FLIGHT) {
      under.remove().waitForCompletion(PATIENCE_MILLIS);
    }
  }

  /** Speaks until a dashboard has heard it once: from then on it listens. */
  void awaitHeard(DashboardCore core, Channel channel) throws MqttException {
    byte[] online = "{\"state\":\"online\"}".getBytes(StandardCharsets.UTF_8);
    long end = System.nanoTime() + Duration.ofMillis(PATIENCE_MILLIS).toNanos();
    while (core.counts().messages() == 0) {
      if (System.nanoTime() - end > 0) {
        throw new AssertionError("the dashboard hears nothing");
      }
      say(channel.topic(Topic.STATUS), online, false);
      LockSupport.parkNanos(Duration.ofMillis(100).toNanos());
    }
  }

  void hear(String topic, Consumer<byte[]> listener) throws MqttException {
    client
        .subscribe(topic, 1, (said, message) -> listener.accept(message.getPayload()))
        .waitForCompletion(PATIENCE_MILLIS);
  }

  /** Waits until the broker has taken everything. */
  void finish() throws MqttException {
    for (var token = under.poll(); token != null; token = under.poll()) {
      token.waitForCompletion(PATIENCE_MILLIS);
    }
  }

  @Override
  public void close() throws MqttException {
    client.disconnectForcibly(0, 500, false);
    client.close(true);
  }
}
