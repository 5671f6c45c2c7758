package org.layroom.dashboard.room;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.store.DeviceRecord;
import org.layroom.dashboard.store.History;
import org.layroom.dashboard.store.LatestReading;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;

/** What is known of one room now, kept up to date by ingest and read from any thread. */
final class LiveRoom {
  static final Duration VOC_WINDOW = Duration.ofMinutes(15);

  private record Held(
      Reading reading, Instant time, Instant received, Duration heldAt, Duration ageThen) {
    Duration age(Duration uptime) {
      return ageThen.plus(uptime.minus(heldAt));
    }
  }

  private final RoomName room;
  private final Pace pace;
  private final Map<String, Map<DeviceName, Held>> values = new HashMap<>();
  private final Map<String, DeviceName> chosen = new HashMap<>();

  /** In the order in which they were first heard of. */
  private final Map<DeviceName, DeviceRecord> devices = new LinkedHashMap<>();

  private final Map<DeviceName, Deque<Held>> vocRaw = new HashMap<>();

  LiveRoom(RoomName room, Pace pace) {
    this.room = room;
    this.pace = pace;
  }

  /** Fills a room from the store after a start. */
  synchronized void restore(List<LatestReading> latest, List<DeviceRecord> records) {
    Instant now = pace.now();
    records.forEach(record -> devices.put(record.channel().device(), record));
    for (LatestReading last : latest) {
      Duration age = Duration.between(last.time(), now);
      hold(
          last.channel().device(),
          new Held(
              last.reading(),
              last.time(),
              last.received(),
              pace.uptime(),
              age.isNegative() ? Duration.ZERO : age));
    }
  }

  /** Fills the window of raw VOC values after a start. */
  synchronized void restoreVocRaw(DeviceName device, List<History.Value> raw) {
    Instant now = pace.now();
    Deque<Held> window = vocRaw.computeIfAbsent(device, name -> new ArrayDeque<>());
    window.clear();
    for (History.Value value : raw) {
      window.addLast(
          new Held(
              Reading.of(Series.VOC_RAW, Series.NO_UNIT, value.value()),
              value.time(),
              value.time(),
              pace.uptime(),
              Duration.between(value.time(), now)));
    }
  }

  synchronized void choose(String series, DeviceName device) {
    chosen.put(series, device);
  }

  synchronized void take(StoreEntry.Sample sample) {
    DeviceName device = sample.channel().device();
    devices.putIfAbsent(device, new DeviceRecord(sample.channel(), Optional.empty()));
    Instant time = sample.times().corrected();
    Instant received = sample.times().received();
    Duration uptime = pace.uptime();
    Duration age = Duration.between(time, received);
    for (Reading reading : sample.readings()) {
      hold(
          device,
          new Held(reading, time, received, uptime, age.isNegative() ? Duration.ZERO : age));
    }
  }

  private void hold(DeviceName device, Held held) {
    Map<DeviceName, Held> byDevice =
        values.computeIfAbsent(held.reading().name(), name -> new HashMap<>());
    Held before = byDevice.get(device);
    if (before == null || !held.time().isBefore(before.time())) {
      byDevice.put(device, held);
    }
    if (held.reading().name().equals(Series.VOC_RAW)
        && held.reading().quality().isGood()
        && held.reading().value().isPresent()) {
      Deque<Held> window = vocRaw.computeIfAbsent(device, name -> new ArrayDeque<>());
      window.addLast(held);
      window.removeIf(old -> old.age(held.heldAt()).compareTo(VOC_WINDOW) > 0);
    }
  }

  synchronized void take(StoreEntry.Status status) {
    DeviceName device = status.channel().device();
    Optional<DeviceRecord.Said> before =
        Optional.ofNullable(devices.get(device)).flatMap(DeviceRecord::said);
    DeviceStatus now = status.status();
    Instant since =
        before
            .filter(said -> said.status().equals(now))
            .map(DeviceRecord.Said::since)
            .orElse(status.received());
    devices.put(
        device,
        new DeviceRecord(
            status.channel(), Optional.of(new DeviceRecord.Said(now, since, status.received()))));
  }

  synchronized RoomSnapshot snapshot(boolean linked) {
    Duration uptime = pace.uptime();
    Map<String, LiveValue> picture = new HashMap<>();
    Map<String, List<LiveValue>> everybody = new HashMap<>();
    for (Map.Entry<String, Map<DeviceName, Held>> series : values.entrySet()) {
      List<LiveValue> all = new ArrayList<>();
      for (DeviceName device : devices.keySet()) {
        Held held = series.getValue().get(device);
        if (held != null) {
          all.add(
              new LiveValue(
                  device, held.reading(), held.time(), held.received(), held.age(uptime)));
        }
      }
      everybody.put(series.getKey(), all);
      Optional<DeviceName> speaker = source(series.getKey());
      all.stream()
          .filter(live -> speaker.equals(Optional.of(live.device())))
          .forEach(live -> picture.put(series.getKey(), live));
    }
    List<DeviceRecord> byName = new ArrayList<>(devices.values());
    byName.sort(Comparator.comparing(record -> record.channel().device().value()));
    return new RoomSnapshot(
        room,
        pace.now(),
        linked,
        picture,
        new RoomSnapshot.Speakers(everybody, chosen),
        byName,
        window(uptime));
  }

  private List<RoomSnapshot.TimedValue> window(Duration uptime) {
    return source(Series.VOC_RAW).map(vocRaw::get).stream()
        .flatMap(Deque::stream)
        .filter(held -> held.age(uptime).compareTo(VOC_WINDOW) <= 0)
        .sorted((a, b) -> a.time().compareTo(b.time()))
        .map(
            held ->
                new RoomSnapshot.TimedValue(
                    held.time(), held.reading().value().orElseThrow(), held.age(uptime)))
        .toList();
  }

  /** The device chosen for a series, else the one first heard of that has it. */
  private Optional<DeviceName> source(String series) {
    Map<DeviceName, Held> having = values.getOrDefault(series, Map.of());
    return Optional.ofNullable(chosen.get(series))
        .or(() -> devices.keySet().stream().filter(having::containsKey).findFirst());
  }
}
