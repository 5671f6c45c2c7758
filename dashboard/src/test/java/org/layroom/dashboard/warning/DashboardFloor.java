package org.layroom.dashboard.warning;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.layroom.dashboard.alarms.Floor;
import org.layroom.dashboard.alarms.Happening;
import org.layroom.dashboard.alarms.Moment;
import org.layroom.dashboard.alarms.Readings;
import org.layroom.dashboard.alarms.Sensor;
import org.layroom.dashboard.alarms.Shop;
import org.layroom.dashboard.decision.AirSettings;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.LeaveLevels;

/** The warnings upstairs: one {@link DeviceWatch} for each device, on a store of its own. */
public final class DashboardFloor implements Floor {
  private static final Duration BEAT = Duration.ofSeconds(5);

  /** Enough to fill the averages anew. */
  private static final int MOST_UNSTORED = 2000;

  private final Store store;
  private final WatchStore kept;
  private final double limitPpm;
  private final Map<String, Sensor> sensors = new HashMap<>();
  private final Map<String, DeviceWatch> watches = new HashMap<>();
  private final List<StoreEntry> unstored = new ArrayList<>();
  private Instant beaten;
  private long sequence;

  /** On an empty folder. */
  public DashboardFloor(Shop shop, Instant start, Path folder) {
    store = StoreFolder.open(folder);
    kept = new WatchStore(store);
    limitPpm = shop.eightHourPpm();
    beaten = start;
    for (Sensor sensor : shop.sensors()) {
      sensors.put(sensor.device(), sensor);
      if (sensor.cleanAirTicks() > 0) {
        kept.keep(
            channel(sensor.device()),
            CleanAirReading.of(sensor.cleanAirTicks(), start.minus(Duration.ofDays(1))),
            "Kim",
            "first-" + sensor.device());
      }
      begin(sensor.device(), start);
    }
  }

  private static Channel channel(String device) {
    return Channel.of("shop", device);
  }

  private Sensor sensor(String device) {
    return Objects.requireNonNull(sensors.get(device), device);
  }

  private DeviceWatch watch(String device) {
    return Objects.requireNonNull(watches.get(device), device);
  }

  private WatchRules rules(String device) {
    Sensor sensor = sensor(device);
    AirSettings settings =
        AirSettings.FIRST
            .withMode(sensor.kind() == Sensor.Kind.PID ? Mode.PID : Mode.CHIP)
            .withLimit(ExposureLimit.own(limitPpm, 2 * limitPpm));
    return new WatchRules(settings, sensor.houseSide(), false, Duration.ofMinutes(2));
  }

  private void begin(String device, Instant now) {
    watches.put(device, new DeviceWatch(channel(device), kept, rules(device), now, now));
  }

  @Override
  public String name() {
    return "dashboard";
  }

  @Override
  public void take(Instant now, Moment moment) {
    while (beaten.plus(BEAT).isBefore(now)) {
      beaten = beaten.plus(BEAT);
      tick(beaten);
    }
    moment.happenings().forEach(one -> take(now, one));
    tick(now);
    moment.predictedPpm().ifPresent(ppm -> watches.values().forEach(one -> one.predicted(ppm)));
    beaten = now;
  }

  private void tick(Instant now) {
    watches.forEach((device, watch) -> watch.tick(rules(device), now));
  }

  private void take(Instant now, Happening happening) {
    Optional<String> speaker = Readings.device(happening);
    if (speaker.isPresent()) {
      sample(now, speaker.get(), happening);
    } else if (happening instanceof Happening.DashboardRestarted) {
      storeAll();
      sensors.keySet().forEach(device -> begin(device, now.plusMillis(1)));
    } else if (happening instanceof Happening.JobStarted job) {
      AirEvent event =
          new AirEvent.JobStarted(
              now, now.plus(job.atMost()), "Kim", job.fanOn(), job.respiratorOn());
      watches.values().forEach(watch -> watch.plus(event));
    } else if (happening instanceof Happening.JobEnded) {
      watches.values().forEach(watch -> watch.plus(new AirEvent.JobEnded(now)));
    } else if (happening instanceof Happening.Wiping) {
      watches.values().forEach(watch -> watch.plus(new AirEvent.Wiping(now)));
    } else if (happening instanceof Happening.CleanAirTaken clean) {
      storeAll();
      CleanAirReading reading = CleanAirReading.of(clean.ticks(), now);
      kept.keep(channel(clean.device()), reading, "Kim", "clean-" + now);
      watch(clean.device()).cleanAir(reading, rules(clean.device()), now);
    }
  }

  private void sample(Instant now, String device, Happening happening) {
    StoreEntry.Sample sample =
        new StoreEntry.Sample(
            channel(device),
            Optional.of(new OutboxPosition("box-" + device, ++sequence)),
            SampleTimes.asSaid(now, now),
            Readings.of(happening, sensor(device).kind()),
            List.of());
    unstored.add(sample);
    if (unstored.size() > 2 * MOST_UNSTORED) {
      unstored.subList(0, MOST_UNSTORED).clear();
    }
    watch(device).take(sample, rules(device), now);
  }

  private void storeAll() {
    store.append(unstored);
    unstored.clear();
  }

  /** What a device would be told of its chip. */
  @Override
  public Optional<LeaveLevels> learned(String device) {
    return watch(device).device().leave();
  }

  @Override
  public List<Standing> standing() {
    List<Standing> all = new ArrayList<>();
    watches.forEach(
        (device, watch) ->
            watch
                .watch()
                .warning()
                .ifPresent(
                    one -> all.add(new Standing(device, one.id(), one.call(), one.sound()))));
    return all;
  }

  @Override
  public void acknowledge(Instant now, Standing seen) {
    watch(seen.device()).plus(new AirEvent.Acknowledged(now, seen.id(), "Kim"));
  }

  @Override
  public void close() {
    store.close();
  }
}
