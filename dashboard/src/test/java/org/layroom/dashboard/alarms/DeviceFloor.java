package org.layroom.dashboard.alarms;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.layroom.device.alarm.LocalAlarm;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Reading;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.LeaveLevels;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.WatchSettings;

/** The alarm in the room: one {@link LocalAlarm} for each device, on stepped time. */
final class DeviceFloor implements Floor {
  private final SteppedPace pace;
  private final Map<String, Sensor> sensors = new HashMap<>();
  private final Map<String, LocalAlarm> alarms = new HashMap<>();
  private final Map<String, AlarmState> said = new HashMap<>();

  DeviceFloor(Shop shop, Instant start) {
    pace = new SteppedPace(start);
    for (Sensor sensor : shop.sensors()) {
      sensors.put(sensor.device(), sensor);
      begin(sensor, settings(sensor, shop.eightHourPpm(), start));
    }
  }

  private static WatchSettings settings(Sensor sensor, double limitPpm, Instant start) {
    VaporSensor vapor =
        sensor.kind() == Sensor.Kind.PID
            ? new VaporSensor.Pid(
                ExposureLimit.own(limitPpm, 2 * limitPpm), VaporSensor.Pid.USUAL_FACTOR)
            : sensor.cleanAirTicks() > 0
                ? VaporSensor.Chip.with(
                    CleanAirReading.of(sensor.cleanAirTicks(), start.minus(Duration.ofDays(1))))
                : VaporSensor.Chip.fresh();
    return sensor.houseSide() ? WatchSettings.houseSide(vapor) : WatchSettings.workRoom(vapor);
  }

  private void begin(Sensor sensor, WatchSettings settings) {
    alarms.put(
        sensor.device(),
        LocalAlarm.unwired(pace, settings, state -> said.put(sensor.device(), state)));
  }

  @Override
  public String name() {
    return "device";
  }

  @Override
  public void take(Instant now, Moment moment) {
    pace.advanceTo(now);
    moment.happenings().forEach(this::take);
  }

  private void take(Happening happening) {
    Optional<String> speaker = Readings.device(happening);
    if (speaker.isPresent()) {
      String device = speaker.get();
      alarm(device).accept(sample(Readings.of(happening, sensor(device).kind())));
    } else if (happening instanceof Happening.DeviceRestarted restarted) {
      restart(restarted.device());
    } else if (happening instanceof Happening.JobStarted job) {
      alarms
          .values()
          .forEach(one -> one.jobStarted(job.atMost(), "Kim", job.fanOn(), job.respiratorOn()));
    } else if (happening instanceof Happening.JobEnded) {
      alarms.values().forEach(LocalAlarm::jobEnded);
    } else if (happening instanceof Happening.Wiping) {
      alarms.values().forEach(LocalAlarm::wiping);
    } else if (happening instanceof Happening.CleanAirTaken clean) {
      alarm(clean.device()).cleanAir(CleanAirReading.of(clean.ticks(), pace.now()));
    }
  }

  private LocalAlarm alarm(String device) {
    return Objects.requireNonNull(alarms.get(device), device);
  }

  private Sensor sensor(String device) {
    return Objects.requireNonNull(sensors.get(device), device);
  }

  private Sample sample(List<Reading> readings) {
    return new Sample(pace.uptime(), pace.now(), true, readings, List.of());
  }

  private void restart(String device) {
    LocalAlarm before = alarm(device);
    before.close();
    begin(sensor(device), before.watch().settings());
  }

  @Override
  public List<Standing> standing() {
    List<Standing> all = new ArrayList<>();
    alarms.forEach(
        (device, alarm) ->
            alarm
                .watch()
                .warning()
                .ifPresent(
                    one -> all.add(new Standing(device, one.id(), one.call(), one.sound()))));
    return all;
  }

  @Override
  public void acknowledge(Instant now, Standing seen) {
    AlarmState state = said.get(seen.device());
    if (state != null) {
      alarm(seen.device()).acknowledged(new Acknowledgment(state.id(), "Kim", now));
    }
  }

  /** Told as the settings of the room tell it. */
  @Override
  public void told(String device, LeaveLevels levels) {
    alarm(device).levels(levels);
  }

  @Override
  public void close() {
    alarms.values().forEach(LocalAlarm::close);
    pace.close();
  }
}
