package org.layroom.dashboard.access.device;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import org.layroom.device.telemetry.Channel;

/**
 * Devices that asked to come in lately and were refused, by the name that they gave themselves: a
 * person can see which one to pair. Anybody can give any name, so that only a few are kept, the
 * newest. Safe for any number of threads.
 */
public final class UnpairedDevices {
  static final int MOST = 16;

  /** A device tries again within minutes. */
  static final Duration FORGOTTEN_AFTER = Duration.ofHours(1);

  private static final String CLIENT_ID = "layroom-";

  /**
   * A device that was refused.
   *
   * @param withPassword whether it gave a password, which does not hold: it was revoked, or paired
   *     anew
   */
  public record Refused(Channel channel, boolean withPassword, Instant last) {
    /** What a person who knows this device does. */
    public String words() {
      return "Device "
          + channel.device()
          + " of room "
          + channel.room()
          + (withPassword
              ? " was refused: its password does not hold any more."
              : " was refused: it is not paired.")
          + " Its readings wait on it. If you know it, run on the dashboard's machine: layroom"
          + " pair-device "
          + channel.device()
          + " --room "
          + channel.room()
          + "; then run on the device: sudo layroom-device pair";
    }
  }

  private final Supplier<Instant> clock;
  private final Map<Channel, Refused> refused = new LinkedHashMap<>();

  /**
   * Nobody was refused yet.
   *
   * @param clock real time
   */
  public UnpairedDevices(Supplier<Instant> clock) {
    this.clock = clock;
  }

  /**
   * A CONNECT was refused.
   *
   * @param user its name, empty for none
   * @param will the topic of its will, empty for none
   */
  public void refused(String user, String clientId, String will) {
    Optional<Channel> who =
        Channel.ofUser(user)
            .or(
                () ->
                    clientId.startsWith(CLIENT_ID)
                        ? Channel.ofUser(clientId.substring(CLIENT_ID.length()))
                        : Optional.empty())
            .or(() -> Channel.parse(will).map(Channel.Addressed::channel));
    who.ifPresent(channel -> refused(new Refused(channel, !user.isEmpty(), clock.get())));
  }

  private synchronized void refused(Refused one) {
    refused.remove(one.channel());
    refused.put(one.channel(), one);
    if (refused.size() > MOST) {
      refused.remove(refused.keySet().iterator().next());
    }
  }

  /** A device is in. */
  void entered(Channel channel) {
    synchronized (this) {
      refused.remove(channel);
    }
  }

  /** Those of the last hour, by name. */
  public List<Refused> lately() {
    Instant since = clock.get().minus(FORGOTTEN_AFTER);
    List<Refused> all;
    synchronized (this) {
      refused.values().removeIf(one -> one.last().isBefore(since));
      all = new ArrayList<>(refused.values());
    }
    all.sort((one, other) -> one.channel().user().compareTo(other.channel().user()));
    return List.copyOf(all);
  }
}
