package org.layroom.dashboard.forecast;

import java.time.Duration;
import java.util.Collection;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.layroom.device.telemetry.RoomName;

/**
 * Which rooms are forecast all the time. In a house of a few rooms all are. Where there are more,
 * those are that somebody has asked about in the last ten minutes, the latest first, as many as fit
 * into memory; the others are at rest. Safe for any number of threads.
 */
final class AwakeRooms {
  /** So many rooms are never at rest. */
  static final int ALWAYS = 8;

  static final Duration AFTER_A_QUESTION = Duration.ofMinutes(10);

  private final int most;
  private final Supplier<Duration> uptime;
  private final Map<RoomName, Duration> asked = new ConcurrentHashMap<>();

  /**
   * None has been asked about.
   *
   * @param most rooms that fit; {@link #ALWAYS} is the least
   */
  AwakeRooms(int most, Supplier<Duration> uptime) {
    this.most = Math.max(ALWAYS, most);
    this.uptime = uptime;
  }

  int most() {
    return most;
  }

  /** Somebody wants to know about a room. */
  void asked(RoomName room) {
    asked.put(room, uptime.get());
  }

  /** Those of the rooms there are that are awake now. */
  Set<RoomName> of(Collection<RoomName> all) {
    Duration since = uptime.get().minus(AFTER_A_QUESTION);
    asked.values().removeIf(at -> at.compareTo(since) < 0);
    if (all.size() <= ALWAYS) {
      return Set.copyOf(all);
    }
    return asked.entrySet().stream()
        .sorted(Map.Entry.<RoomName, Duration>comparingByValue().reversed())
        .map(Map.Entry::getKey)
        .filter(all::contains)
        .limit(most)
        .collect(Collectors.toUnmodifiableSet());
  }
}
