package org.layroom.dashboard.broker;

import io.netty.handler.codec.mqtt.MqttConnectMessage;
import io.netty.handler.codec.mqtt.MqttMessage;
import io.netty.handler.codec.mqtt.MqttPublishMessage;
import io.netty.handler.codec.mqtt.MqttSubscribeMessage;
import io.netty.handler.codec.mqtt.MqttTopicSubscription;
import io.netty.handler.codec.mqtt.MqttUnsubscribeMessage;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import javax.security.auth.Subject;
import org.apache.activemq.artemis.core.protocol.mqtt.MQTTInterceptor;
import org.apache.activemq.artemis.core.remoting.server.RemotingService;
import org.apache.activemq.artemis.core.security.CheckType;
import org.apache.activemq.artemis.core.security.Role;
import org.apache.activemq.artemis.spi.core.protocol.RemotingConnection;
import org.apache.activemq.artemis.spi.core.security.ActiveMQSecurityManager5;
import org.apache.activemq.artemis.spi.core.security.jaas.UserPrincipal;
import org.jspecify.annotations.Nullable;
import org.layroom.dashboard.access.device.BrokerClient;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.tinylog.Logger;

/**
 * Who comes in and what they may do there. A paired device speaks and hears on its own topics
 * alone; without a name somebody comes in only from this machine, and only while nothing is paired.
 * Will and client id are looked at before the broker sees them: it publishes a will without asking.
 */
final class BrokerAccess implements ActiveMQSecurityManager5, MQTTInterceptor {
  private final DeviceLogins logins;
  private final boolean beyondThisMachine;
  private final Map<Object, BrokerClient> inside = new ConcurrentHashMap<>();

  /** Sent away just now: only their will is left to be published. */
  private final Set<Object> leaving = ConcurrentHashMap.newKeySet();

  private final RefusalLog log;

  BrokerAccess(DeviceLogins logins, boolean beyondThisMachine, RefusalLog log) {
    this.logins = logins;
    this.log = log;
    this.beyondThisMachine = beyondThisMachine;
  }

  /** Whether an anonymous client comes in now. */
  boolean isOpen() {
    return !beyondThisMachine && logins.paired().isEmpty();
  }

  /** Whether somebody comes in; asked before the engine sees their connection. */
  boolean letsIn(String user, String password) {
    if (enter(user, password).isPresent()) {
      return true;
    }
    log.add(RefusalLog.Reason.LOGIN, user.isEmpty() ? "without a name" : "\"" + user + "\"");
    return false;
  }

  private Optional<BrokerClient> enter(@Nullable String user, @Nullable String password) {
    if (user == null || user.isEmpty()) {
      return isOpen() ? Optional.of(new BrokerClient.Anybody()) : Optional.empty();
    }
    return logins.enter(user, password == null ? "" : password);
  }

  @Override
  public @Nullable Subject authenticate(
      @Nullable String user,
      @Nullable String password,
      @Nullable RemotingConnection connection,
      @Nullable String domain) {
    Optional<BrokerClient> guest =
        connection != null && leaving.contains(connection.getID())
            ? Optional.ofNullable(inside.get(connection.getID()))
            : enter(user, password);
    if (guest.isEmpty()) {
      return null;
    }
    if (connection != null) {
      inside.put(connection.getID(), guest.get());
    }
    Subject subject = new Subject();
    subject.getPrincipals().add(new UserPrincipal(guest.get().words()));
    subject.getPrivateCredentials().add(guest.get());
    return subject;
  }

  @Override
  public boolean authorize(
      @Nullable Subject subject,
      @Nullable Set<Role> roles,
      @Nullable CheckType check,
      @Nullable String address) {
    if (subject == null || check == null || address == null) {
      return false;
    }
    Optional<BrokerClient> guest =
        subject.getPrivateCredentials(BrokerClient.class).stream().findFirst();
    String topic = address.replaceFirst("::.*", "").replace('.', '/');
    if (guest.filter(one -> may(one, check, topic)).isPresent()) {
      return true;
    }
    String who = guest.map(BrokerClient::words).orElse("nobody");
    log.add(RefusalLog.Reason.RIGHT, who + " on " + topic + " (" + check + ")");
    return false;
  }

  private static boolean may(BrokerClient guest, CheckType check, String topic) {
    if (check == CheckType.SEND) {
      return guest.mayPublish(topic);
    }
    if (check == CheckType.CREATE_ADDRESS) {
      return guest.mayPublish(topic) || guest.maySubscribe(topic);
    }
    return !(guest instanceof BrokerClient.Device)
        || (onlyHears(check) && guest.maySubscribe(topic));
  }

  private static boolean onlyHears(CheckType check) {
    return check == CheckType.CONSUME
        || check == CheckType.CREATE_NON_DURABLE_QUEUE
        || check == CheckType.CREATE_DURABLE_QUEUE
        || check == CheckType.DELETE_NON_DURABLE_QUEUE
        || check == CheckType.DELETE_DURABLE_QUEUE;
  }

  @Override
  public boolean intercept(MqttMessage packet, RemotingConnection connection) {
    if (packet instanceof MqttPublishMessage publish) {
      return fits(List.of(publish.variableHeader().topicName()), TopicRules::topic, connection);
    }
    if (packet instanceof MqttSubscribeMessage subscribe) {
      List<String> filters =
          subscribe.payload().topicSubscriptions().stream()
              .map(MqttTopicSubscription::topicFilter)
              .toList();
      return fits(filters, TopicRules::filter, connection);
    }
    if (packet instanceof MqttUnsubscribeMessage unsubscribe) {
      Optional<BrokerClient> who = Optional.ofNullable(inside.get(connection.getID()));
      return fits(
          unsubscribe.payload().topics(),
          filter ->
              TopicRules.filter(filter) && who.filter(one -> one.maySubscribe(filter)).isPresent(),
          connection);
    }
    if (!(packet instanceof MqttConnectMessage connect)) {
      return true;
    }
    byte[] bytes = connect.payload().passwordInBytes();
    String password = bytes == null ? "" : new String(bytes, StandardCharsets.UTF_8);
    Optional<BrokerClient> guest = enter(connect.payload().userName(), password);
    if (guest.isEmpty()) {
      return true; // is turned away with the right word by authenticate
    }
    String will = connect.payload().willTopic();
    if (will != null && !(TopicRules.topic(will) && guest.get().mayPublish(will))) {
      log.add(RefusalLog.Reason.WILL, guest.get().words() + " on " + will);
      return false;
    }
    String id = connect.payload().clientIdentifier();
    if (!guest.get().mayBe(id)) {
      log.add(RefusalLog.Reason.CLIENT_ID, guest.get().words() + ": " + id);
      return false;
    }
    return true;
  }

  /** A topic that nobody needs is refused whatever the rights, and ends the connection. */
  private boolean fits(List<String> topics, Predicate<String> rule, RemotingConnection connection) {
    if (topics.stream().allMatch(rule)) {
      return true;
    }
    Object id = connection.getID();
    String who = inside.containsKey(id) ? inside.get(id).words() : "somebody";
    log.add(RefusalLog.Reason.TOPIC, who);
    connection.destroy();
    return false;
  }

  /** Disconnects, at once, every client that would be refused now. */
  void sendAway(RemotingService remoting, Optional<BrokerClient> whose) {
    Set<Object> there =
        remoting.getConnections().stream()
            .map(RemotingConnection::getID)
            .collect(Collectors.toSet());
    inside.keySet().retainAll(there);
    leaving.retainAll(there);
    for (RemotingConnection connection : remoting.getConnections()) {
      BrokerClient guest = inside.get(connection.getID());
      boolean stranger = guest instanceof BrokerClient.Anybody && !isOpen();
      if (guest != null && (stranger || whose.filter(guest::equals).isPresent())) {
        Logger.info("Broker ends the connection of {}", guest.words());
        leaving.add(connection.getID());
        connection.destroy();
      }
    }
  }

  @Override
  public boolean validateUser(@Nullable String user, @Nullable String password) {
    return enter(user, password).isPresent();
  }

  @Override
  public boolean validateUserAndRole(
      @Nullable String user,
      @Nullable String password,
      @Nullable Set<Role> roles,
      @Nullable CheckType check) {
    return false;
  }
}
