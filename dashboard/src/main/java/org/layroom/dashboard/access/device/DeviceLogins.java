package org.layroom.dashboard.access.device;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.PlainTopic;
import org.tinylog.Logger;

/**
 * The paired devices and readers of a dashboard, in {@code access/devices} of its data folder, and
 * the dashboard's own password beside it; both for the owner alone. Safe for any number of threads.
 */
public final class DeviceLogins {
  private static final String HEADER =
      "# Paired with this dashboard: hashes of passwords, in mosquitto's form.\n";

  private final Path file;
  private final Path own;
  private final Map<String, PasswordHash> hashes = new TreeMap<>();
  private final Map<String, BrokerClient> clients = new TreeMap<>();
  private final List<Consumer<BrokerClient>> listeners = new CopyOnWriteArrayList<>();
  private final PasswordHash ownHash;
  private final UnpairedDevices unpaired;

  private DeviceLogins(Path folder, Supplier<Instant> clock) throws IOException {
    unpaired = new UnpairedDevices(clock);
    file = folder.resolve("devices");
    own = folder.resolve("dashboard-password");
    OwnerOnlyFiles.folder(folder);
    if (Files.exists(file)) {
      Files.readString(file).lines().filter(line -> !line.startsWith("#")).forEach(this::read);
    }
    if (!Files.exists(own)) {
      OwnerOnlyFiles.write(own, DevicePasswords.fresh() + "\n");
    }
    String password = Files.readString(own).lines().findFirst().orElse("").strip();
    if (password.isEmpty()) {
      throw new IOException(own + " is empty; delete it, and a new one is made at the next start");
    }
    ownHash = PasswordHash.of(password);
  }

  /**
   * The devices paired with the dashboard of a data folder.
   *
   * @param clock real time, by which refused devices are forgotten
   * @throws UncheckedIOException when its files cannot be read or made
   */
  public static DeviceLogins of(Path data, Supplier<Instant> clock) {
    try {
      return new DeviceLogins(data.resolve("access"), clock);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The same without a clock: no device that was refused is ever forgotten. */
  public static DeviceLogins of(Path data) {
    return of(data, () -> Instant.EPOCH);
  }

  private void read(String line) {
    int colon = line.indexOf(':');
    Optional<BrokerClient> client =
        colon < 0 ? Optional.empty() : BrokerClient.ofUser(line.substring(0, colon));
    Optional<PasswordHash> hash =
        colon < 0 ? Optional.empty() : PasswordHash.parse(line.substring(colon + 1));
    if (client.isPresent() && hash.isPresent()) {
      clients.put(client.get().user(), client.get());
      hashes.put(client.get().user(), hash.get());
    } else {
      Logger.warn("A line of {} cannot be read; that device must be paired again", file);
    }
  }

  /** Told, after it is kept, whose old password does not hold any more. */
  public void onChange(Consumer<BrokerClient> listener) {
    listeners.add(listener);
  }

  /** The dashboard's own password is in the first line of this file. */
  public Path ownPasswordFile() {
    return own;
  }

  /**
   * Pairs a device, or pairs it anew: its old password does not hold any more.
   *
   * @return its password, which is nowhere else
   * @throws UncheckedIOException when it cannot be kept; nothing has changed then
   */
  public String pair(Channel channel) {
    return pair(new BrokerClient.Device(channel));
  }

  /** The same for a reader. */
  public String pair(BrokerClient.Reader reader) {
    return pair((BrokerClient) reader);
  }

  private String pair(BrokerClient client) {
    String password = DevicePasswords.fresh();
    synchronized (this) {
      Map<String, PasswordHash> next = new TreeMap<>(hashes);
      next.put(client.user(), PasswordHash.of(password));
      keep(next);
      clients.put(client.user(), client);
    }
    listeners.forEach(listener -> listener.accept(client));
    return password;
  }

  /** Takes a device's password away; false when it had none. */
  public boolean revoke(Channel channel) {
    return revoke(new BrokerClient.Device(channel));
  }

  /** The same for a reader. */
  public boolean revoke(BrokerClient.Reader reader) {
    return revoke((BrokerClient) reader);
  }

  private boolean revoke(BrokerClient client) {
    synchronized (this) {
      if (!hashes.containsKey(client.user())) {
        return false;
      }
      Map<String, PasswordHash> next = new TreeMap<>(hashes);
      next.remove(client.user());
      keep(next);
      clients.remove(client.user());
    }
    listeners.forEach(listener -> listener.accept(client));
    return true;
  }

  private void keep(Map<String, PasswordHash> next) {
    try {
      OwnerOnlyFiles.write(file, HEADER + lines(next));
    } catch (IOException e) {
      throw new UncheckedIOException("The devices' passwords cannot be saved in " + file, e);
    }
    hashes.clear();
    hashes.putAll(next);
  }

  private static String lines(Map<String, PasswordHash> hashes) {
    return hashes.entrySet().stream()
        .map(entry -> entry.getKey() + ":" + entry.getValue().text() + "\n")
        .collect(Collectors.joining());
  }

  /** Every paired device, by name. */
  public synchronized List<Channel> paired() {
    List<Channel> all = new ArrayList<>();
    for (BrokerClient client : clients.values()) {
      if (client instanceof BrokerClient.Device device) {
        all.add(device.channel());
      }
    }
    return List.copyOf(all);
  }

  /** Every reader, by name. */
  public synchronized List<BrokerClient.Reader> readers() {
    List<BrokerClient.Reader> all = new ArrayList<>();
    for (BrokerClient client : clients.values()) {
      if (client instanceof BrokerClient.Reader reader) {
        all.add(reader);
      }
    }
    return List.copyOf(all);
  }

  /** Devices that were refused lately. */
  public UnpairedDevices unpaired() {
    return unpaired;
  }

  /** Who comes with a name and a password; empty when nobody does. */
  public Optional<BrokerClient> enter(String user, String password) {
    if (user.equals(BrokerClient.Dashboard.USER)) {
      return ownHash.fits(password) ? Optional.of(new BrokerClient.Dashboard()) : Optional.empty();
    }
    Optional<PasswordHash> hash;
    Optional<BrokerClient> client;
    synchronized (this) {
      hash = Optional.ofNullable(hashes.get(user));
      client = Optional.ofNullable(clients.get(user));
    }
    if (hash.isEmpty() || client.isEmpty() || !hash.get().fits(password)) {
      return Optional.empty();
    }
    if (client.get() instanceof BrokerClient.Device device) {
      unpaired.entered(device.channel());
    }
    return client;
  }

  /** A password file for mosquitto: the dashboard, every paired device and every reader. */
  public synchronized byte[] mosquittoPasswords() {
    String all = BrokerClient.Dashboard.USER + ":" + ownHash.text() + "\n" + lines(hashes);
    return all.getBytes(StandardCharsets.UTF_8);
  }

  /** An access list for mosquitto: what each of them may say and hear. */
  public synchronized byte[] mosquittoAccess() {
    StringBuilder acl =
        new StringBuilder("# Made by Layroom; written by \"layroom broker-files\".\n");
    acl.append("user ").append(BrokerClient.Dashboard.USER).append('\n');
    acl.append("topic readwrite layroom/#\n");
    acl.append("topic readwrite ").append(PlainTopic.ROOT).append("/#\n");
    for (BrokerClient client : clients.values()) {
      acl.append("\nuser ").append(client.user()).append('\n');
      if (client instanceof BrokerClient.Device device) {
        device.says().forEach(topic -> acl.append("topic write ").append(topic).append('\n'));
        device.hears().forEach(topic -> acl.append("topic read ").append(topic).append('\n'));
      } else if (client instanceof BrokerClient.Reader) {
        BrokerClient.Reader.HEARS.forEach(
            filter -> acl.append("topic read ").append(filter).append('\n'));
      }
    }
    return acl.toString().getBytes(StandardCharsets.UTF_8);
  }
}
