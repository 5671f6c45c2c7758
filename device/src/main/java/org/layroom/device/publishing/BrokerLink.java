package org.layroom.device.publishing;

import java.io.IOException;
import org.eclipse.paho.client.mqttv3.IMqttActionListener;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.IMqttToken;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttCallback;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.Topic;
import org.tinylog.Logger;

/**
 * One connection to a broker, from its first attempt to its end; never used again after. Clean
 * session and nothing kept in the client: the outbox is what is kept.
 */
final class BrokerLink {
  /** Messages that the broker has not yet taken. */
  static final int MOST_IN_FLIGHT = 50;

  private static final int KEEP_ALIVE_SECONDS = 30;
  private static final int CONNECT_SECONDS = 10;
  private static final long CLOSE_MILLIS = 500;
  private static final long GOODBYE_MILLIS = 2000;

  private final Channel channel;
  private final Events events;
  private final MqttAsyncClient client;
  private final BrokerAddress address;

  /** What a connection tells, on the MQTT client's own threads: do not wait in these. */
  interface Events {
    void connected(BrokerLink link);

    /** The attempt failed, or the connection is gone. May come more than once. */
    void lost(BrokerLink link, String reason);

    /**
     * A message of a subscribed topic.
     *
     * @param kept whether the broker had it before we asked, so that it may be old
     */
    void arrived(String topic, byte[] body, boolean kept);

    /** The broker has taken one message. */
    void taken(BrokerLink link);
  }

  private BrokerLink(
      BrokerAddress address, Channel channel, Events events, MqttAsyncClient client) {
    this.address = address;
    this.channel = channel;
    this.events = events;
    this.client = client;
  }

  /** Begins to connect. */
  static BrokerLink open(BrokerAddress address, Channel channel, Events events) throws IOException {
    try {
      MqttAsyncClient client =
          new MqttAsyncClient(address.clientUri(), channel.clientId(), new MemoryPersistence());
      BrokerLink link = new BrokerLink(address, channel, events, client);
      client.setCallback(link.new Callback());
      client.connect(options(address, channel), null, link.new Connecting());
      return link;
    } catch (MqttException e) {
      throw new IOException(reason(e, address), e);
    }
  }

  private static boolean isRefusal(Throwable e) {
    return e instanceof MqttException mqtt
        && (mqtt.getReasonCode() == MqttException.REASON_CODE_FAILED_AUTHENTICATION
            || mqtt.getReasonCode() == MqttException.REASON_CODE_NOT_AUTHORIZED);
  }

  /** What became of one attempt to come in. */
  enum Trial {
    /** The broker has let this device in. */
    IN,
    /** The broker is there and refuses the name or the password. */
    REFUSED
  }

  /**
   * Comes in once and leaves again, on the caller's thread.
   *
   * @throws IOException when no broker answers
   */
  static Trial tryOnce(BrokerAddress address, Channel channel, String password) throws IOException {
    try {
      MqttAsyncClient client =
          new MqttAsyncClient(address.clientUri(), channel.clientId(), new MemoryPersistence());
      MqttConnectOptions options = new MqttConnectOptions();
      options.setConnectionTimeout(CONNECT_SECONDS);
      address.user().ifPresent(options::setUserName);
      encrypt(options, address);
      options.setPassword(password.toCharArray());
      try {
        client.connect(options).waitForCompletion();
        client.disconnect(0).waitForCompletion(GOODBYE_MILLIS);
        return Trial.IN;
      } finally {
        client.close(true);
      }
    } catch (MqttException e) {
      if (isRefusal(e)) {
        return Trial.REFUSED;
      }
      throw new IOException(reason(e, address), e);
    }
  }

  private static MqttConnectOptions options(BrokerAddress address, Channel channel)
      throws IOException {
    MqttConnectOptions options = new MqttConnectOptions();
    options.setMqttVersion(MqttConnectOptions.MQTT_VERSION_3_1_1);
    options.setCleanSession(true);
    options.setAutomaticReconnect(false);
    options.setKeepAliveInterval(KEEP_ALIVE_SECONDS);
    options.setConnectionTimeout(CONNECT_SECONDS);
    options.setMaxInflight(2 * MOST_IN_FLIGHT);
    options.setWill(
        channel.topic(Topic.STATUS),
        DeviceStatus.OFFLINE.write(),
        Topic.QOS,
        Topic.STATUS.retained());
    address.user().ifPresent(options::setUserName);
    encrypt(options, address);
    address.currentPassword().ifPresent(password -> options.setPassword(password.toCharArray()));
    return options;
  }

  private static void encrypt(MqttConnectOptions options, BrokerAddress address)
      throws IOException {
    if (address.caFile().isPresent()) {
      options.setSocketFactory(address.authority().sockets());
    }
  }

  /** Sends; {@link Events#taken} follows when the broker has it. */
  void publish(Topic topic, byte[] body) throws IOException {
    try {
      client.publish(
          channel.topic(topic), body, Topic.QOS, topic.retained(), null, new Publishing());
    } catch (MqttException e) {
      throw new IOException(reason(e), e);
    }
  }

  void subscribe(String topic) throws IOException {
    try {
      client.subscribe(topic, Topic.QOS);
    } catch (MqttException e) {
      throw new IOException(reason(e), e);
    }
  }

  /** Says "offline" and disconnects; waits up to two seconds on the caller's thread. */
  void goodbye() {
    try {
      if (client.isConnected()) {
        client
            .publish(
                channel.topic(Topic.STATUS),
                DeviceStatus.OFFLINE.write(),
                Topic.QOS,
                Topic.STATUS.retained())
            .waitForCompletion(GOODBYE_MILLIS);
        client.disconnect(0).waitForCompletion(GOODBYE_MILLIS);
      }
    } catch (MqttException e) {
      Logger.debug("Did not disconnect cleanly from the broker: {}", reason(e));
    }
    drop();
  }

  /** Ends the connection at once; waits up to half a second on the caller's thread. */
  void drop() {
    try {
      client.disconnectForcibly(0, CLOSE_MILLIS, false);
    } catch (MqttException e) {
      Logger.debug("The connection had already ended: {}", reason(e));
    }
    try {
      client.close(true);
    } catch (MqttException e) {
      Logger.debug("The MQTT client did not close: {}", reason(e));
    }
  }

  /** Why no connection came about. */
  private static String reason(Throwable e, BrokerAddress address) {
    return isRefusal(e) ? reason(e) : address.trouble().words(e).orElseGet(() -> reason(e));
  }

  private static String reason(Throwable e) {
    if (isRefusal(e)) {
      return "the broker refused this device's name or password; pair it again: layroom-device"
          + " pair";
    }
    Throwable cause = e.getCause() == null ? e : e.getCause();
    return cause.getMessage() == null ? cause.toString() : cause.getMessage();
  }

  private final class Callback implements MqttCallback {
    @Override
    public void connectionLost(Throwable cause) {
      events.lost(BrokerLink.this, reason(cause));
    }

    @Override
    public void messageArrived(String topic, MqttMessage message) {
      events.arrived(topic, message.getPayload(), message.isRetained());
    }

    @Override
    public void deliveryComplete(IMqttDeliveryToken token) {}
  }

  private final class Connecting implements IMqttActionListener {
    @Override
    public void onSuccess(IMqttToken token) {
      events.connected(BrokerLink.this);
    }

    @Override
    public void onFailure(IMqttToken token, Throwable cause) {
      events.lost(BrokerLink.this, reason(cause, address));
    }
  }

  private final class Publishing implements IMqttActionListener {
    @Override
    public void onSuccess(IMqttToken token) {
      events.taken(BrokerLink.this);
    }

    @Override
    public void onFailure(IMqttToken token, Throwable cause) {
      events.lost(BrokerLink.this, reason(cause));
    }
  }
}
