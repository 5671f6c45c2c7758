package org.layroom.device.testing;

import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.BooleanSupplier;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttCallbackExtended;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.ReadingsBody;
import org.layroom.device.telemetry.StoredMark;
import org.layroom.device.telemetry.Topic;

/** The dashboard's end of the line in the smallest form: keeps samples, answers with the mark. */
public final class StandInDashboard implements AutoCloseable {
  private static final byte[] ONLINE = "{\"state\":\"online\"}".getBytes(StandardCharsets.UTF_8);

  private final MqttAsyncClient client;
  private final Channel channel;
  private final ReentrantLock lock = new ReentrantLock();
  private final Condition news = lock.newCondition();
  private final NavigableMap<Long, DeviceMessage.Sample> samples = new TreeMap<>();
  private final List<DeviceMessage> all = new ArrayList<>();
  private final List<DeviceStatus> statuses = new ArrayList<>();
  private final List<AlarmState> alarms = new ArrayList<>();
  private final List<String> refused = new ArrayList<>();
  private boolean answers = true;
  private boolean underWay;
  private boolean due;
  private String outbox = "";
  private long mark;

  private StandInDashboard(MqttAsyncClient client, Channel channel) {
    this.client = client;
    this.channel = channel;
  }

  /** Connects and listens to one device. */
  public static StandInDashboard listen(URI broker, Channel channel) throws MqttException {
    MqttAsyncClient client =
        new MqttAsyncClient(
            "tcp://" + broker.getHost() + ":" + broker.getPort(),
            "stand-in-dashboard",
            new MemoryPersistence());
    StandInDashboard dashboard = new StandInDashboard(client, channel);
    client.setCallback(dashboard.new Callback());
    MqttConnectOptions options = new MqttConnectOptions();
    options.setCleanSession(false);
    options.setAutomaticReconnect(true);
    options.setMaxReconnectDelay(200);
    client.connect(options).waitForCompletion(120_000);
    return dashboard;
  }

  /** Whether marks are sent; without them nothing counts as stored. */
  public void answers(boolean now) {
    lock.lock();
    try {
      answers = now;
    } finally {
      lock.unlock();
    }
  }

  /** Samples by sequence number. */
  public NavigableMap<Long, DeviceMessage.Sample> samples() {
    lock.lock();
    try {
      return new TreeMap<>(samples);
    } finally {
      lock.unlock();
    }
  }

  /** The sample with a number; the test fails when it has not arrived. */
  public DeviceMessage.Sample sample(long sequence) {
    return Optional.ofNullable(samples().get(sequence)).orElseThrow();
  }

  /** Everything that arrived, in its order, repetitions too. */
  public List<DeviceMessage> all() {
    lock.lock();
    try {
      return List.copyOf(all);
    } finally {
      lock.unlock();
    }
  }

  public List<DeviceStatus> statuses() {
    lock.lock();
    try {
      return List.copyOf(statuses);
    } finally {
      lock.unlock();
    }
  }

  /** What the device has said of its alarm. */
  public List<AlarmState> alarms() {
    lock.lock();
    try {
      return List.copyOf(alarms);
    } finally {
      lock.unlock();
    }
  }

  /** Tells the device what was decided, as long as nothing else is. */
  public void decide(DeviceSettings settings) throws MqttException {
    tellSettings(settings.write());
  }

  /** A device that comes now is told nothing. */
  public void decideNothing() throws MqttException {
    tellSettings(new byte[0]);
  }

  private void tellSettings(byte[] body) throws MqttException {
    client.publish(channel.topic(Topic.SETTINGS), body, Topic.QOS, true);
  }

  /** Messages that did not follow the contract. */
  public List<String> refused() {
    lock.lock();
    try {
      return List.copyOf(refused);
    } finally {
      lock.unlock();
    }
  }

  /** Waits until a condition on what has arrived holds; says whether it does. */
  public boolean await(Duration patience, BooleanSupplier condition) throws InterruptedException {
    long left = patience.toNanos();
    lock.lock();
    try {
      while (!condition.getAsBoolean()) {
        if (left <= 0) {
          return false;
        }
        left = news.awaitNanos(left);
      }
      return true;
    } finally {
      lock.unlock();
    }
  }

  @Override
  public void close() throws MqttException {
    client.disconnectForcibly(0, 500, false);
    client.close(true);
  }

  private void take(DeviceMessage message) {
    all.add(message);
    if (message instanceof DeviceMessage.Sample sample && sample.position().isPresent()) {
      samples.put(sample.position().get().sequence(), sample);
      while (samples.containsKey(mark + 1)) {
        mark++;
      }
      answer(sample.position().get().outbox());
    } else if (message instanceof DeviceMessage.Lost lost) {
      if (lost.first() <= mark + 1) {
        mark = Math.max(mark, lost.last());
      }
      while (samples.containsKey(mark + 1)) {
        mark++;
      }
      answer(lost.outbox());
    }
  }

  /** One mark at a time is on its way; the next one says the newest state. */
  private void answer(String ofOutbox) {
    outbox = ofOutbox;
    if (!answers || underWay) {
      due = answers;
      return;
    }
    try {
      underWay = true;
      due = false;
      client.publish(
          channel.topic(Topic.STORED),
          new StoredMark(outbox, mark).write(),
          Topic.QOS,
          Topic.STORED.retained());
    } catch (MqttException e) {
      underWay = false;
    }
  }

  private final class Callback implements MqttCallbackExtended {
    @Override
    public void connectComplete(boolean again, String uri) {
      lock.lock();
      try {
        underWay = false;
      } finally {
        lock.unlock();
      }
      try {
        client.subscribe(channel.topic(Topic.READINGS), Topic.QOS);
        client.subscribe(channel.topic(Topic.STATUS), Topic.QOS);
        client.subscribe(channel.topic(Topic.ALARM), Topic.QOS);
        client.publish(Topic.DASHBOARD, ONLINE, Topic.QOS, true);
      } catch (MqttException e) {
        throw new IllegalStateException(e);
      }
    }

    @Override
    public void connectionLost(Throwable cause) {}

    @Override
    public void messageArrived(String topic, MqttMessage message) {
      lock.lock();
      try {
        if (topic.equals(channel.topic(Topic.STATUS))) {
          statuses.add(DeviceStatus.read(message.getPayload()));
        } else if (topic.equals(channel.topic(Topic.ALARM))) {
          alarms.add(AlarmState.read(message.getPayload()));
        } else {
          ReadingsBody.read(channel, message.getPayload()).forEach(StandInDashboard.this::take);
        }
      } catch (MalformedMessage e) {
        refused.add(String.valueOf(e.getMessage()));
      } finally {
        news.signalAll();
        lock.unlock();
      }
    }

    @Override
    public void deliveryComplete(IMqttDeliveryToken token) {
      lock.lock();
      try {
        underWay = false;
        if (due) {
          answer(outbox);
        }
      } finally {
        lock.unlock();
      }
    }
  }
}
