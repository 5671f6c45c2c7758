package org.layroom.dashboard.warning;

import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.CupRise;
import org.layroom.predictor.vapor.VaporSensor;

/** Whether the vapor sensors of every room still sense vapor. Not for several threads. */
final class BumpTests {
  /** A cup told later than this was mixed too long ago to see its rise begin. */
  private static final Duration TOLD_IN_TIME = Duration.ofMinutes(5);

  private static final String NEW_CHIP =
      "A new sensor was fitted and no clean-air reading was taken with it.";

  private final Watches watches;
  private final WatchClock clock;
  private final SensorStore store;
  private final Map<Channel, SensorWatch> sensors = new HashMap<>();
  private Consumer<Channel> begun = channel -> {};

  BumpTests(DashboardCore core, Watches watches, WatchClock clock) {
    this.watches = watches;
    this.clock = clock;
    store = new SensorStore(core.store());
  }

  /** Why the sensor of a device is not believed, in words: its device is told. */
  Optional<String> doubt(DeviceWatch watch) {
    SensorWatch sensor = of(watch.channel());
    boolean chip = watch.watch().settings().sensor() instanceof VaporSensor.Chip;
    return sensor
        .doubt()
        .or(
            () ->
                chip && watch.cleanAir().isEmpty() && sensor.life().proof().fittedUnproven()
                    ? Optional.of(NEW_CHIP)
                    : Optional.empty());
  }

  /** The sensor of a device. */
  SensorWatch of(Channel channel) {
    return sensors.computeIfAbsent(channel, one -> new SensorWatch(one, store, clock));
  }

  /** Who is told when a bump test begins. */
  void onBegun(Consumer<Channel> listener) {
    begun = listener;
  }

  /** A cup was mixed: the sensor that speaks for the room must show it. */
  void cupMixed(RoomName room, Instant mixed, double grams) {
    boolean late = Duration.between(mixed, clock.wall()).compareTo(TOLD_IN_TIME) > 0;
    if (grams < CupRise.LEAST_GRAMS || late) {
      return;
    }
    watches.in(room).stream()
        .filter(watch -> !watch.full())
        .forEach(watch -> of(watch.channel()).cupMixed(watch.watch().now()));
  }

  /** Nothing that was mixed gives off vapor any more, or it was taken back. */
  void noCup(RoomName room) {
    watches.in(room).forEach(watch -> of(watch.channel()).noCup());
  }

  /** Begins a bump test. */
  DeviceWatch begin(RoomName room, Optional<DeviceName> device, Mode mode, String id, String who) {
    DeviceWatch watch = watches.of(room, device, mode);
    SensorWatch sensor = of(watch.channel());
    boolean saidBefore = store.said(room, id) || sensor.running().filter(id::equals).isPresent();
    if (!saidBefore) {
      sensor.begin(watch.watch(), id, who);
      watch.forgetJob();
      begun.accept(watch.channel());
    }
    return watch;
  }

  /**
   * Somebody put a new sensor in.
   *
   * @return the watch of its device, unless it was said before under this id
   */
  Optional<DeviceWatch> fitted(
      RoomName room, Optional<DeviceName> device, Mode mode, String saidAs, String who) {
    DeviceWatch watch = watches.of(room, device, mode);
    if (store.said(room, saidAs)) {
      return Optional.empty();
    }
    of(watch.channel()).fitted(saidAs, who);
    return Optional.of(watch);
  }

  /** Somebody says whether lamp, buzzer and fan came on in the newest bump test. */
  void alarmSeen(
      RoomName room,
      Optional<DeviceName> device,
      Mode mode,
      String saidAs,
      String who,
      boolean seen) {
    SensorWatch sensor = of(watches.of(room, device, mode).channel());
    if (store.said(room, saidAs)) {
      return;
    }
    if (sensor.alarmSeen(seen, saidAs, who).isEmpty()) {
      throw new IllegalArgumentException("no bump test was done with this sensor yet");
    }
  }

  /** When the bump tests of a room were through. */
  List<Instant> tests(RoomName room) {
    return store.tests(room);
  }

  /** Keeps what is only counted now and then. */
  void close() {
    sensors.values().forEach(SensorWatch::keepHours);
  }
}
