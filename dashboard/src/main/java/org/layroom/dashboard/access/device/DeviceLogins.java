package org.layroom.dashboard.access.device;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.layroom.device.telemetry.Channel;
import org.tinylog.Logger;

/**
 * The paired devices of a dashboard, in {@code access/devices} of its data folder, and the
 * dashboard's own password beside it; both for the owner alone. Safe for any number of threads.
 */
public final class DeviceLogins {
  private static final String HEADER =
      "# Devices paired with this dashboard: hashes of their passwords, in mosquitto's form.\n";

  private final Path file;
  private final Path own;
  private final Map<String, PasswordHash> hashes = new TreeMap<>();
  private final Map<String, Channel> channels = new TreeMap<>();
  private final List<Consumer<Channel>> listeners = new CopyOnWriteArrayList<>();
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
    Optional<Channel> channel =
        colon < 0 ? Optional.empty() : Channel.ofUser(line.substring(0, colon));
    Optional<PasswordHash> hash =
        colon < 0 ? Optional.empty() : PasswordHash.parse(line.substring(colon + 1));
    if (channel.isPresent() && hash.isPresent()) {
      channels.put(channel.get().user(), channel.get());
      hashes.put(channel.get().user(), hash.get());
    } else {
      Logger.warn("A line of {} cannot be read; that device must be paired again", file);
    }
  }

  /** Told, after it is kept, whose old password does not hold any more. */
  public void onChange(Consumer<Channel> listener) {
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
    String password = DevicePasswords.fresh();
    synchronized (this) {
      Map<String, PasswordHash> next = new TreeMap<>(hashes);
      next.put(channel.user(), PasswordHash.of(password));
      keep(next);
      channels.put(channel.user(), channel);
    }
    listeners.forEach(listener -> listener.accept(channel));
    return password;
  }

  /** Takes a device's password away; false when it had none. */
  public boolean revoke(Channel channel) {
    synchronized (this) {
      if (!hashes.containsKey(channel.user())) {
        return false;
      }
      Map<String, PasswordHash> next = new TreeMap<>(hashes);
      next.remove(channel.user());
      keep(next);
      channels.remove(channel.user());
    }
    listeners.forEach(listener -> listener.accept(channel));
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
    List<Channel> all = new ArrayList<>(channels.values());
    all.sort(Comparator.comparing(Channel::user));
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
    Optional<Channel> channel;
    synchronized (this) {
      hash = Optional.ofNullable(hashes.get(user));
      channel = Optional.ofNullable(channels.get(user));
    }
    if (hash.isEmpty() || channel.isEmpty() || !hash.get().fits(password)) {
      return Optional.empty();
    }
    unpaired.entered(channel.get());
    return Optional.of(new BrokerClient.Device(channel.get()));
  }

  /** A password file for mosquitto: the dashboard and every paired device. */
  public synchronized byte[] mosquittoPasswords() {
    String all = BrokerClient.Dashboard.USER + ":" + ownHash.text() + "\n" + lines(hashes);
    return all.getBytes(StandardCharsets.UTF_8);
  }

  /** An access list for mosquitto: what each of them may say and hear. */
  public synchronized byte[] mosquittoAccess() {
    StringBuilder acl =
        new StringBuilder("# Made by Layroom; written by \"layroom broker-files\".\n");
    acl.append("user ").append(BrokerClient.Dashboard.USER).append("\ntopic readwrite layroom/#\n");
    for (Channel channel : channels.values()) {
      BrokerClient.Device device = new BrokerClient.Device(channel);
      acl.append("\nuser ").append(device.user()).append('\n');
      device.says().forEach(topic -> acl.append("topic write ").append(topic).append('\n'));
      device.hears().forEach(topic -> acl.append("topic read ").append(topic).append('\n'));
    }
    return acl.toString().getBytes(StandardCharsets.UTF_8);
  }
}
