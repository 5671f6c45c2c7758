package org.layroom.dashboard.access.device;

import java.util.Set;
import java.util.TreeSet;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Topic;

/** Somebody whom the broker has let in, and what they may say and hear. */
public sealed interface BrokerClient {

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

    /** Its name at a broker: no two channels share one. */
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
}
