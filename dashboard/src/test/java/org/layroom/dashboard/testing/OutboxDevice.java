package org.layroom.dashboard.testing;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Supplier;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttCallback;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.layroom.dashboard.access.device.BrokerClient;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.ReadingsBody;
import org.layroom.device.telemetry.SampleTime;
import org.layroom.device.telemetry.Series;
import org.layroom.device.telemetry.StoredMark;
import org.layroom.device.telemetry.Topic;

/**
 * A device as the contract wants one, written apart from the real one: it numbers its samples and
 * sends everything above the stored mark again on each connection and after a while without
 * progress.
 */
public final class OutboxDevice implements AutoCloseable {
  private static final int MOST_IN_FLIGHT = 50;

  private static final Duration NO_PROGRESS = Duration.ofSeconds(2);

  private final Supplier<URI> broker;
  private final Channel channel;
  private final String outbox;
  private final Login login;
  private final NavigableMap<Long, DeviceMessage.Sample> kept = new ConcurrentSkipListMap<>();
  private final Thread thread = new Thread(this::run, "test-device");
  private final long made = System.nanoTime();
  private volatile boolean open = true;
  private volatile long numbered;
  private volatile long mark;
  private volatile long markAt = System.nanoTime();
  private final AtomicLong resent = new AtomicLong();
  private volatile String dashboard = "";

  /** A name and a password at a broker. */
  public record Login(String user, String password) {
    /** Pairs a device. */
    public static Login of(DeviceLogins logins, Channel channel) {
      return new Login(channel.user(), logins.pair(channel));
    }

    /** The dashboard's own, for what only it may say and hear. */
    public static Login dashboards(DeviceLogins logins) {
      try {
        return new Login(
            BrokerClient.Dashboard.USER, Files.readAllLines(logins.ownPasswordFile()).get(0));
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }

    /** How a client comes in with it. */
    public MqttConnectOptions options() {
      MqttConnectOptions options = new MqttConnectOptions();
      options.setUserName(user);
      options.setPassword(password.toCharArray());
      return options;
    }
  }

  /** Prepares a device; the broker's address may change from connection to connection. */
  public OutboxDevice(Supplier<URI> broker, Channel channel, String outbox, Login login) {
    this.broker = broker;
    this.channel = channel;
    this.outbox = outbox;
    this.login = login;
    thread.setDaemon(true);
  }

  public OutboxDevice start() {
    thread.start();
    return this;
  }

  /** Measures: gives the sample the next number. */
  public long measure(Instant time, double temperatureC) {
    long sequence = numbered + 1;
    kept.put(
        sequence,
        new DeviceMessage.Sample(
            new SampleTime.At(time),
            Optional.of(new OutboxPosition(outbox, sequence)),
            OptionalDouble.of(uptime()),
            OptionalDouble.empty(),
            List.of(Reading.of(Series.TEMPERATURE, Series.CELSIUS, temperatureC))));
    numbered = sequence;
    return sequence;
  }

  public long mark() {
    return mark;
  }

  /** How many messages were sent more than once. */
  public long resent() {
    return resent.get();
  }

  /** The last retained word of the dashboard on itself. */
  public String dashboard() {
    return dashboard;
  }

  private void run() {
    while (open) {
      try (MqttAsyncClient client =
          new MqttAsyncClient(
              broker.get().toString(), channel.clientId(), new MemoryPersistence())) {
        talk(client);
      } catch (MqttException e) {
        pause();
      }
    }
  }

  private void talk(MqttAsyncClient client) throws MqttException {
    client.setCallback(new Marks());
    MqttConnectOptions options = login.options();
    options.setCleanSession(true);
    options.setMaxInflight(MOST_IN_FLIGHT);
    options.setConnectionTimeout(5);
    try {
      client.connect(options).waitForCompletion(5000);
      client
          .subscribe(new String[] {channel.topic(Topic.STORED), Topic.DASHBOARD}, new int[] {1, 1})
          .waitForCompletion(5000);
      long sent = mark;
      markAt = System.nanoTime();
      while (open && client.isConnected()) {
        if (mark < sent && System.nanoTime() - markAt > NO_PROGRESS.toNanos()) {
          resent.addAndGet(sent - mark);
          sent = mark;
          markAt = System.nanoTime();
        }
        sent = send(client, Math.max(sent, mark));
        pause();
      }
    } finally {
      if (client.isConnected()) {
        client.disconnectForcibly(0, 100, false);
      }
    }
  }

  private long send(MqttAsyncClient client, long above) throws MqttException {
    long sent = above;
    for (DeviceMessage.Sample sample : kept.tailMap(above, false).values()) {
      if (!sendOne(client, sample)) {
        break;
      }
      sent = sample.position().orElseThrow().sequence();
    }
    return sent;
  }

  /** False when too many messages are on their way already. */
  private boolean sendOne(MqttAsyncClient client, DeviceMessage.Sample sample)
      throws MqttException {
    try {
      client.publish(
          channel.topic(Topic.READINGS),
          ReadingsBody.write(channel, sentNow(sample)),
          Topic.QOS,
          false);
      return true;
    } catch (MqttException e) {
      if (e.getReasonCode() == MqttException.REASON_CODE_MAX_INFLIGHT) {
        return false;
      }
      throw e;
    }
  }

  private double uptime() {
    return (System.nanoTime() - made) / 1e9;
  }

  private DeviceMessage.Sample sentNow(DeviceMessage.Sample sample) {
    return new DeviceMessage.Sample(
        sample.time(),
        sample.position(),
        sample.uptimeSeconds(),
        OptionalDouble.of(uptime()),
        sample.readings());
  }

  private static void pause() {
    LockSupport.parkNanos(Duration.ofMillis(5).toNanos());
  }

  @Override
  public void close() {
    open = false;
  }

  private final class Marks implements MqttCallback {
    @Override
    public void connectionLost(Throwable cause) {}

    @Override
    public void messageArrived(String topic, MqttMessage message) throws MalformedMessage {
      if (topic.equals(Topic.DASHBOARD)) {
        dashboard = new String(message.getPayload(), StandardCharsets.UTF_8);
        return;
      }
      StoredMark said = StoredMark.read(message.getPayload());
      if (said.outbox().equals(outbox) && said.sequence() > mark) {
        mark = said.sequence();
        markAt = System.nanoTime();
        kept.headMap(mark, true).clear();
      }
    }

    @Override
    public void deliveryComplete(IMqttDeliveryToken token) {}
  }
}
