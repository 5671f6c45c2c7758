package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.net.Inet4Address;
import java.net.InetAddress;
import java.net.NetworkInterface;
import java.net.SocketException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.layroom.dashboard.access.device.BrokerClient;
import org.layroom.dashboard.access.device.UnpairedDevices;
import org.layroom.dashboard.broker.Broker;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.store.DeviceRecord;
import org.layroom.device.telemetry.Channel;
import org.tinylog.Logger;

/** Which devices are paired with this dashboard, and their pairing and revoking. */
public final class DeviceAnswers {
  private static final String OUTSIDE =
      "Your own broker does not know this yet. Run \"layroom broker-files\" again and reload"
          + " the broker (sudo systemctl reload mosquitto).";

  private final DashboardCore core;
  private final boolean reachable;
  private final boolean samePort;

  /**
   * The devices of a dashboard.
   *
   * @param reachable whether the broker inside listens where other machines reach it
   * @param samePort whether it has the same port at each start
   */
  public DeviceAnswers(DashboardCore core, boolean reachable, boolean samePort) {
    this.core = core;
    this.reachable = reachable;
    this.samePort = samePort;
  }

  /** Every device that was heard or paired. */
  public ObjectNode list() {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("withoutName", false);
    json.put("outsideBroker", core.broker().isEmpty());
    brokers(json.putArray("brokers"));
    Set<Channel> paired = Set.copyOf(core.logins().paired());
    ArrayNode devices = json.putArray("devices");
    for (Channel channel : known(paired)) {
      devices
          .addObject()
          .put("room", channel.room().value())
          .put("device", channel.device().value())
          .put("user", channel.user())
          .put("paired", paired.contains(channel));
    }
    ArrayNode readers = json.putArray("readers");
    core.logins().readers().forEach(reader -> readers.add(reader.name()));
    ArrayNode refused = json.putArray("refusedDevices");
    for (UnpairedDevices.Refused one : core.logins().unpaired().lately()) {
      refused
          .addObject()
          .put("room", one.channel().room().value())
          .put("device", one.channel().device().value())
          .put("withPassword", one.withPassword())
          .put("last", one.last().truncatedTo(ChronoUnit.SECONDS).toString())
          .put("words", one.words());
    }
    return json;
  }

  private List<Channel> known(Set<Channel> paired) {
    Set<String> users = new TreeSet<>();
    paired.forEach(channel -> users.add(channel.user()));
    core.rooms().stream()
        .flatMap(room -> core.snapshot(room).devices().stream())
        .map(DeviceRecord::channel)
        .forEach(channel -> users.add(channel.user()));
    return users.stream().flatMap(user -> Channel.ofUser(user).stream()).toList();
  }

  /** Pairs a device: the answer holds its password, once. */
  public ObjectNode pair(Channel channel) {
    String password = core.logins().pair(channel);
    List<String> lines = new ArrayList<>();
    lines.add(
        "Device "
            + channel.device()
            + " of room "
            + channel.room()
            + " has this password. It is shown only once:");
    lines.add("");
    lines.add("    " + password);
    lines.add("");
    lines.add("On the device, run:  sudo layroom-device pair");
    ObjectNode json = list();
    json.path("brokers").forEach(uri -> lines.add("It asks for the broker: " + uri.asText()));
    if (core.broker().isPresent()) {
      where(lines);
    }
    if (core.broker().filter(Broker::encrypted).isPresent()) {
      lines.add(
          "The connection is encrypted. Copy the certificate of the authority that signed the"
              + " broker's certificate to the device. There, set broker.ca-file to it and start"
              + " broker.uri with mqtts://. Use a name or address that the broker's certificate"
              + " is valid for.");
    }
    return paired(json, channel.user(), password, lines);
  }

  /** Pairs a reader: the answer holds its password, once. */
  public ObjectNode pair(BrokerClient.Reader reader) {
    String password = core.logins().pair(reader);
    List<String> lines = new ArrayList<>();
    lines.add("Reader " + reader.name() + " has this password. It is shown only once:");
    lines.add("");
    lines.add("    " + password);
    lines.add("");
    lines.add("It can only listen, to these topics:");
    BrokerClient.Reader.HEARS.forEach(filter -> lines.add("    " + filter));
    ObjectNode json = list();
    json.path("brokers").forEach(uri -> lines.add("At the broker: " + uri.asText()));
    if (core.broker().isPresent()) {
      where(lines);
    }
    return paired(json, reader.user(), password, lines);
  }

  private ObjectNode paired(ObjectNode json, String user, String password, List<String> lines) {
    if (core.broker().isEmpty()) {
      lines.add(OUTSIDE);
    }
    json.put("user", user).put("password", password);
    lines.forEach(json.putArray("lines")::add);
    return json;
  }

  private void where(List<String> lines) {
    if (!reachable) {
      lines.add(
          "The broker listens on this machine only. To reach it from elsewhere, set"
              + " broker.address=0.0.0.0 and broker.port=1883 in dashboard.properties and"
              + " restart.");
    } else if (!samePort) {
      lines.add(
          "The broker's port changes at each start. Set broker.port (usually 1883) in"
              + " dashboard.properties and restart.");
    }
  }

  /** Takes a device's password away; empty when it had none. */
  public Optional<ObjectNode> revoke(Channel channel) {
    return core.logins().revoke(channel)
        ? Optional.of(
            revoked(
                "Device "
                    + channel.device()
                    + " of room "
                    + channel.room()
                    + " no longer has access. Its stored readings stay."))
        : Optional.empty();
  }

  /** Takes a reader's password away; empty when it had none. */
  public Optional<ObjectNode> revoke(BrokerClient.Reader reader) {
    return core.logins().revoke(reader)
        ? Optional.of(revoked("Reader " + reader.name() + " no longer has access."))
        : Optional.empty();
  }

  private ObjectNode revoked(String words) {
    ObjectNode json = list();
    ArrayNode lines = json.putArray("lines");
    lines.add(words);
    if (core.broker().isEmpty()) {
      lines.add(OUTSIDE);
    }
    return json;
  }

  /** The files that let an outside mosquitto do the same. */
  public ObjectNode brokerFiles() {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("passwords", new String(core.logins().mosquittoPasswords(), StandardCharsets.UTF_8));
    json.put("access", new String(core.logins().mosquittoAccess(), StandardCharsets.UTF_8));
    json.put("ownPasswordFile", core.logins().ownPasswordFile().toAbsolutePath().toString());
    return json;
  }

  private void brokers(ArrayNode uris) {
    URI here = core.brokerUri();
    boolean encrypted =
        core.broker()
            .map(Broker::encrypted)
            .orElse(String.valueOf(here.getScheme()).matches("ssl|mqtts"));
    int port = core.broker().map(Broker::port).orElse(here.getPort());
    if (core.broker().isEmpty() || !reachable) {
      uris.add(mqtt(encrypted, here.getHost(), port));
      return;
    }
    addresses().forEach(address -> uris.add(mqtt(encrypted, address, port)));
  }

  private static String mqtt(boolean encrypted, String host, int port) {
    return (encrypted ? "mqtts://" : "mqtt://") + host + (port < 0 ? "" : ":" + port);
  }

  private static List<String> addresses() {
    try {
      return NetworkInterface.networkInterfaces()
          .flatMap(NetworkInterface::inetAddresses)
          .filter(Inet4Address.class::isInstance)
          .filter(address -> !address.isLoopbackAddress())
          .map(InetAddress::getHostAddress)
          .toList();
    } catch (SocketException e) {
      Logger.debug(e, "This machine's addresses are unknown");
      return List.of();
    }
  }
}
