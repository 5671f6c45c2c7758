package org.layroom.dashboard.ingest;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.layroom.dashboard.store.LatestReading;
import org.layroom.dashboard.store.Sources;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;

/**
 * How many series a device may have and how many devices a room: more than any shop needs, and few
 * enough that nobody fills the store with names. What is above is counted, said and not kept. Not
 * for several threads.
 */
public final class SeriesCap {
  /** A choice: the contract names 14 records, and a mold sensor adds one each. */
  public static final int MOST_SERIES = 100;

  /** A choice: ten times what was ever tried in one room. */
  public static final int MOST_DEVICES = 50;

  private final Map<RoomName, Map<Channel, Set<String>>> known = new HashMap<>();

  /** Knows nothing yet. */
  SeriesCap() {}

  /** Knows what is stored. */
  SeriesCap(Sources sources) {
    for (RoomName room : sources.rooms()) {
      sources.devices(room).forEach(device -> series(device.channel()));
      for (LatestReading last : sources.latest(room)) {
        series(last.channel()).add(last.reading().name());
      }
    }
  }

  private Set<String> series(Channel channel) {
    return known
        .computeIfAbsent(channel.room(), any -> new HashMap<>())
        .computeIfAbsent(channel, any -> new HashSet<>());
  }

  /** Why a device is one too many for its room; empty when it is not. */
  Optional<String> objection(Channel channel) {
    Map<Channel, Set<String>> room = known.getOrDefault(channel.room(), Map.of());
    if (room.containsKey(channel) || room.size() < MOST_DEVICES) {
      return Optional.empty();
    }
    return Optional.of("room " + channel.room() + " has " + MOST_DEVICES + " devices already");
  }

  /** Why a series is one too many for its device; empty when it is not, and then it is known. */
  Optional<String> objection(Channel channel, String series) {
    Set<String> names = series(channel);
    if (names.contains(series) || names.size() < MOST_SERIES) {
      names.add(series);
      return Optional.empty();
    }
    return Optional.of("device " + channel.device() + " has " + MOST_SERIES + " series already");
  }
}
