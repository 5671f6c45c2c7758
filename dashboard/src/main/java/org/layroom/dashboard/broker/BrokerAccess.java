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
 * Who comes in and what they may do there: the dashboard, paired devices, each on its own topics
 * alone, and readers, which say nothing; nobody without a name, and nobody under a client id that
 * somebody else has. Will and client id are looked at before the broker sees them: it publishes a
 * will without asking.
 */
final class BrokerAccess implements ActiveMQSecurityManager5, MQTTInterceptor {
  private final DeviceLogins logins;
  private final Map<Object, BrokerClient> inside = new ConcurrentHashMap<>();

  private final Map<Object, Holder> holders = new ConcurrentHashMap<>();

  /** Sent away just now: only their will is left to be published. */
  private final Set<Object> leaving = ConcurrentHashMap.newKeySet();

  private final RefusalLog log;

  BrokerAccess(DeviceLogins logins, RefusalLog log) {
    this.logins = logins;
    this.log = log;
  }

  /** Whether somebody comes in; asked before the engine sees their connection. */
  boolean letsIn(MqttConnectMessage connect) {
    if (enter(connect).isPresent()) {
      return true;
    }
    String user = said(connect.payload().userName());
    String id = said(connect.payload().clientIdentifier());
    logins.unpaired().refused(user, id, said(connect.payload().willTopic()));
    log.add(
        RefusalLog.Reason.LOGIN,
        user.isEmpty() ? "without a name, client id \"" + id + "\"" : "\"" + user + "\"");
    return false;
  }

  private Optional<BrokerClient> enter(MqttConnectMessage connect) {
    byte[] password = connect.payload().passwordInBytes();
    return enter(
        connect.payload().userName(),
        password == null ? "" : new String(password, StandardCharsets.UTF_8));
  }

  private Optional<BrokerClient> enter(@Nullable String user, @Nullable String password) {
    return user == null || user.isEmpty() ? Optional.empty() : logins.enter(user, said(password));
  }

  private static String said(@Nullable String text) {
    return text == null ? "" : text;
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
    String topic = topic(address);
    if (guest.filter(one -> may(one, check, topic)).isPresent()) {
      return true;
    }
    String who = guest.map(BrokerClient::words).orElse("nobody");
    log.add(RefusalLog.Reason.RIGHT, who + " on " + topic + " (" + check + ")");
    return false;
  }

  /** The engine's own signs for an address, as MQTT writes them. */
  private static String topic(String address) {
    return address.replaceFirst("::.*", "").replace('.', '/').replace('*', '+');
  }

  private static boolean may(BrokerClient guest, CheckType check, String topic) {
    if (check == CheckType.SEND) {
      return guest.mayPublish(topic);
    }
    if (check == CheckType.CREATE_ADDRESS) {
      return guest.mayPublish(topic) || guest.maySubscribe(topic);
    }
    return guest instanceof BrokerClient.Dashboard
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
    Optional<BrokerClient> guest = enter(connect);
    if (guest.isEmpty()) {
      return true; // is turned away with the right word by authenticate
    }
    String will = connect.payload().willTopic();
    if (will != null && !(TopicRules.topic(will) && guest.get().mayPublish(will))) {
      log.add(RefusalLog.Reason.WILL, guest.get().words() + " on " + will);
      return false;
    }
    String id = connect.payload().clientIdentifier();
    if (!guest.get().mayBe(id) || isAnothers(id, guest.get())) {
      log.add(RefusalLog.Reason.CLIENT_ID, guest.get().words() + ": " + id);
      return false;
    }
    holders.put(connection.getID(), new Holder(id, guest.get()));
    connection.addCloseListener(() -> holders.remove(connection.getID()));
    return true;
  }

  /** Who is connected under which client id. */
  private record Holder(String clientId, BrokerClient guest) {}

  private boolean isAnothers(String clientId, BrokerClient guest) {
    return holders.values().stream()
        .anyMatch(one -> one.clientId().equals(clientId) && !one.guest().equals(guest));
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

  /** Disconnects a client, at once. */
  void sendAway(RemotingService remoting, BrokerClient whose) {
    Set<Object> there =
        remoting.getConnections().stream()
            .map(RemotingConnection::getID)
            .collect(Collectors.toSet());
    inside.keySet().retainAll(there);
    leaving.retainAll(there);
    for (RemotingConnection connection : remoting.getConnections()) {
      BrokerClient guest = inside.get(connection.getID());
      if (guest != null && guest.equals(whose)) {
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
