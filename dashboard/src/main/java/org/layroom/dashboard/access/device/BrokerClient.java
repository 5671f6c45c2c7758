package org.layroom.dashboard.access.device;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.PlainTopic;
import org.layroom.device.telemetry.Topic;

/** Somebody whom the broker has let in, and what they may say and hear. */
public sealed interface BrokerClient {

  /** Their name at a broker. */
  String user();

  /** Who has this name at a broker; empty when nobody can. */
  static Optional<BrokerClient> ofUser(String user) {
    if (user.equals(Dashboard.USER)) {
      return Optional.of(new Dashboard());
    }
    return Channel.ofUser(user).<BrokerClient>map(Device::new).or(() -> Reader.ofName(user));
  }

  /** Whether they may publish on a topic. */
  boolean mayPublish(String topic);

  /** Whether they may subscribe to a filter, as it is written. */
  boolean maySubscribe(String filter);

  /** Whether they may come under a client id, so that nobody takes another's session. */
  boolean mayBe(String clientId);

  /** Who that is, in a log. */
  String words();

  /** The dashboard itself: everything. */
  record Dashboard() implements BrokerClient {
    /** Its name at a broker. */
    public static final String USER = "layroom-dashboard";

    @Override
    public String user() {
      return USER;
    }

    @Override
    public boolean mayPublish(String topic) {
      return true;
    }

    @Override
    public boolean maySubscribe(String filter) {
      return true;
    }

    @Override
    public boolean mayBe(String clientId) {
      return true;
    }

    @Override
    public String words() {
      return "the dashboard";
    }
  }

  /**
   * A paired device: its own topics, each in its own direction, its room's verdict, and nothing
   * with a wildcard.
   */
  record Device(Channel channel) implements BrokerClient {
    private static final Set<Topic> SAYS = Set.of(Topic.READINGS, Topic.STATUS, Topic.ALARM);
    private static final Set<Topic> HEARS = Set.of(Topic.STORED, Topic.SETTINGS, Topic.ACKNOWLEDGE);

    /** No two channels share one, and each has a dot in it. */
    @Override
    public String user() {
      return channel.user();
    }

    /** What it may publish. */
    public Set<String> says() {
      return topics(SAYS);
    }

    /** What it may subscribe to. */
    public Set<String> hears() {
      Set<String> all = new TreeSet<>(topics(HEARS));
      all.add(Topic.DASHBOARD);
      all.add(Topic.verdict(channel.room()));
      return all;
    }

    private Set<String> topics(Set<Topic> kinds) {
      Set<String> all = new TreeSet<>();
      kinds.forEach(kind -> all.add(channel.topic(kind)));
      return all;
    }

    @Override
    public boolean mayPublish(String topic) {
      return says().contains(topic);
    }

    @Override
    public boolean maySubscribe(String filter) {
      return hears().contains(filter);
    }

    @Override
    public boolean mayBe(String clientId) {
      return clientId.equals(channel.clientId());
    }

    @Override
    public String words() {
      return "device " + channel.device() + " of room " + channel.room();
    }
  }

  /**
   * A program of the house that only listens, such as a hub: the plain values, what the dashboard
   * says of each room, and the readings.
   *
   * @param name as somebody called it, without a dot
   */
  record Reader(String name) implements BrokerClient {
    /** Names of ours begin like this. */
    private static final String OURS = "layroom";

    /** What a reader may subscribe to, and whatever lies within. */
    public static final List<String> HEARS =
        List.of(
            PlainTopic.ROOT + "/#",
            Topic.DASHBOARD,
            "layroom/+/verdict",
            "layroom/+/warnings",
            "layroom/+/jobs",
            Topic.READINGS.everyDevice(),
            Topic.STATUS.everyDevice());

    /**
     * A checked reader.
     *
     * @throws IllegalArgumentException when the name cannot be one; says what to change
     */
    public Reader {
      try {
        DeviceName.of(name);
      } catch (IllegalArgumentException e) {
        throw new IllegalArgumentException(
            String.valueOf(e.getMessage()).replaceFirst("^device", "reader"), e);
      }
      if (name.startsWith(OURS)) {
        throw new IllegalArgumentException(
            "reader name \"" + name + "\": must not begin with \"" + OURS + "\"");
      }
    }

    static Optional<BrokerClient> ofName(String name) {
      try {
        return Optional.of(new Reader(name));
      } catch (IllegalArgumentException e) {
        return Optional.empty();
      }
    }

    @Override
    public String user() {
      return name;
    }

    @Override
    public boolean mayPublish(String topic) {
      return false;
    }

    @Override
    public boolean maySubscribe(String filter) {
      return HEARS.stream().anyMatch(allowed -> TopicFilter.covers(allowed, filter));
    }

    /** Programs choose their own, but none of ours. */
    @Override
    public boolean mayBe(String clientId) {
      return !clientId.startsWith(OURS);
    }

    @Override
    public String words() {
      return "reader " + name;
    }
  }
}
