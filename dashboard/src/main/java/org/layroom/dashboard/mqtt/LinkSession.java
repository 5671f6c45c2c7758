package org.layroom.dashboard.mqtt;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Optional;
import org.eclipse.paho.client.mqttv3.IMqttActionListener;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.IMqttToken;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttCallback;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.jspecify.annotations.Nullable;
import org.layroom.device.telemetry.Topic;
import org.tinylog.Logger;

/**
 * One connection from its attempt to its end, on a client of its own: nothing of a broken
 * connection is used again. Its events come on the client library's threads.
 */
final class LinkSession implements MqttCallback {
  static final byte[] ONLINE = "{\"state\":\"online\"}".getBytes(StandardCharsets.UTF_8);
  static final byte[] OFFLINE = "{\"state\":\"offline\"}".getBytes(StandardCharsets.UTF_8);

  private static final int MOST_IN_FLIGHT = 50;
  private static final int REFUSED_SUBSCRIPTION = 0x80;
  private static final long CLOSING_MILLIS = 2000;

  /** What happens to a session. */
  interface Events {
    void connected(LinkSession session);

    void failed(LinkSession session, Throwable cause);

    void published(OutgoingQueue.Message message, boolean delivered);

    boolean arrived(
        LinkSession session, String topic, byte[] body, boolean retained, Runnable acknowledge);
  }

  private final MqttAsyncClient client;
  private final Events events;
  private volatile boolean live = true;
  private volatile Optional<IMqttToken> connecting = Optional.empty();

  /** Nothing on its way is kept over a restart: what is retained is said anew then. */
  LinkSession(LinkSettings settings, Events events) throws MqttException {
    this.client =
        new MqttAsyncClient(settings.socketUri(), settings.clientId(), new MemoryPersistence());
    this.events = events;
    client.setManualAcks(true);
    client.setCallback(this);
  }

  /** Starts to connect; {@link Events} tells how it went. */
  void connect(LinkSettings settings, boolean clean, Optional<char[]> password)
      throws MqttException, IOException {
    MqttConnectOptions options = new MqttConnectOptions();
    options.setCleanSession(clean);
    options.setAutomaticReconnect(false);
    options.setKeepAliveInterval((int) settings.times().keepAlive().toSeconds());
    options.setConnectionTimeout((int) settings.times().connectWithin().toSeconds());
    options.setMaxInflight(MOST_IN_FLIGHT);
    options.setWill(Topic.DASHBOARD, OFFLINE, Topic.QOS, true);
    settings.user().ifPresent(options::setUserName);
    password.ifPresent(options::setPassword);
    options.setSocketFactory(settings.sockets());
    IMqttToken attempt =
        client.connect(
            options,
            null,
            new IMqttActionListener() {
              @Override
              public void onSuccess(IMqttToken token) {
                events.connected(LinkSession.this);
              }

              @Override
              public void onFailure(IMqttToken token, Throwable cause) {
                ended(cause);
              }
            });
    connecting = Optional.of(attempt);
  }

  /** Subscribes without waiting. A broker that refuses one of the topics is said in the log. */
  void subscribe(String[] topics, int[] qos) throws MqttException {
    client.subscribe(
        topics,
        qos,
        null,
        new IMqttActionListener() {
          @Override
          public void onSuccess(IMqttToken token) {
            int[] granted = token.getGrantedQos();
            for (int i = 0; granted != null && i < granted.length; i++) {
              if (granted[i] == REFUSED_SUBSCRIPTION) {
                Logger.error("The broker refuses this dashboard's subscription to {}", topics[i]);
              }
            }
          }

          @Override
          public void onFailure(IMqttToken token, Throwable cause) {
            Logger.error("Cannot subscribe to {}: {}", Arrays.toString(topics), cause);
            ended(cause);
          }
        });
  }

  /**
   * Sends a message of the contract; {@link Events#published} tells how it went. False when it
   * cannot be sent now.
   */
  boolean publish(OutgoingQueue.Message message) {
    try {
      client.publish(
          message.topic(),
          message.body(),
          Topic.QOS,
          message.retained(),
          null,
          new IMqttActionListener() {
            @Override
            public void onSuccess(IMqttToken token) {
              events.published(message, true);
            }

            @Override
            public void onFailure(IMqttToken token, Throwable cause) {
              events.published(message, false);
            }
          });
      return true;
    } catch (MqttException e) {
      Logger.debug("Not sent now: {}", e.getMessage());
      return false;
    }
  }

  /** Sends a message that may be lost. */
  void ping(String topic, byte[] body) {
    try {
      client.publish(topic, body, 0, false);
    } catch (MqttException e) {
      Logger.debug("Self-ping not sent: {}", e.getMessage());
    }
  }

  private void ended(@Nullable Throwable cause) {
    live = false;
    events.failed(this, cause == null ? new MqttException(0) : cause);
  }

  @Override
  public void connectionLost(Throwable cause) {
    ended(cause);
  }

  @Override
  public void messageArrived(String topic, MqttMessage message) {
    int id = message.getId();
    int qos = message.getQos();
    Runnable acknowledge = () -> acknowledge(id, qos);
    try {
      if (!events.arrived(this, topic, message.getPayload(), message.isRetained(), acknowledge)) {
        Logger.debug("Message on {} postponed", topic);
      }
    } catch (RuntimeException e) {
      Logger.error(e, "A message on {} could not be handled and is dropped", topic);
      acknowledge.run();
    }
  }

  private void acknowledge(int id, int qos) {
    if (live && qos > 0) {
      try {
        client.messageArrivedComplete(id, qos);
      } catch (MqttException e) {
        Logger.debug(
            "Acknowledgment not sent; the broker will repeat the message: {}", e.getMessage());
      }
    }
  }

  @Override
  public void deliveryComplete(IMqttDeliveryToken token) {}

  /** Ends the connection on a thread of its own, because the library may be stuck. */
  void dispose(boolean farewell, Runnable done) {
    live = false;
    Thread thread =
        new Thread(
            () -> {
              try {
                close(farewell);
              } catch (MqttException | RuntimeException e) {
                Logger.debug("Connection closed with {}", e.getMessage());
              } finally {
                done.run();
              }
            },
            "layroom-mqtt-close");
    thread.setDaemon(true);
    thread.start();
  }

  /**
   * The library's connecting thread never ends when it is closed between opening the socket and
   * sending the first packet, so an attempt under way is waited for.
   */
  private void awaitAttempt() {
    try {
      if (connecting.isPresent()) {
        connecting.get().waitForCompletion(CLOSING_MILLIS);
      }
    } catch (MqttException e) {
      Logger.debug("Closed while connecting: {}", e.getMessage());
    }
  }

  private void close(boolean farewell) throws MqttException {
    awaitAttempt();
    try {
      client.setCallback(null); // the library fails here when it never came to connect
      if (farewell && client.isConnected()) {
        client.publish(Topic.DASHBOARD, OFFLINE, Topic.QOS, true).waitForCompletion(CLOSING_MILLIS);
        client.disconnect(CLOSING_MILLIS).waitForCompletion(CLOSING_MILLIS);
      } else {
        client.disconnectForcibly(0, 1, false);
      }
    } finally {
      client.close(true);
    }
  }
}
