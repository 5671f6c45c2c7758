package org.layroom.device.publishing;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.device.telemetry.Topic;

/**
 * What the broker retains of this device, and whether it is due again: its alarm, which goes first,
 * and its status. Both are due with each connection. For one thread.
 */
final class RetainedState {
  private final Duration markWait;
  private List<PartFault> faults = List.of();
  private List<SensorOffset> offsets = List.of();
  private boolean statusDue;
  private Optional<AlarmState> alarm = Optional.empty();
  private boolean alarmDue;
  private Duration onlineSince = Duration.ZERO;

  /** Whether the last status could say since when the device is online. */
  private boolean sinceKnown;

  /**
   * Nothing to say yet.
   *
   * @param markWait how long this device waits for its stored mark
   */
  RetainedState(Duration markWait) {
    this.markWait = markWait;
  }

  /** Says whether the status is due for it. */
  boolean state(List<PartFault> now, List<SensorOffset> corrected, boolean wallClockSet) {
    boolean clockNews = !sinceKnown && wallClockSet;
    boolean news = clockNews || !now.equals(faults) || !corrected.equals(offsets);
    if (news) {
      faults = now;
      offsets = corrected;
      statusDue = true;
    }
    return news;
  }

  void alarm(AlarmState now) {
    alarm = Optional.of(now);
    alarmDue = true;
  }

  void connected(Duration uptime) {
    onlineSince = uptime;
    statusDue = true;
    alarmDue = alarm.isPresent();
  }

  /** What is due first; it is taken for sent. */
  Optional<Outgoing> next(ClockReading clock) {
    if (alarmDue && alarm.isPresent()) {
      alarmDue = false;
      return Optional.of(new Outgoing(Topic.ALARM, alarm.get().write()));
    }
    if (statusDue) {
      statusDue = false;
      return Optional.of(new Outgoing(Topic.STATUS, status(clock).write()));
    }
    return Optional.empty();
  }

  private DeviceStatus status(ClockReading clock) {
    sinceKnown = clock.wallClockSet();
    Optional<Instant> since =
        sinceKnown
            ? Optional.of(clock.wall().minus(clock.uptime().minus(onlineSince)))
            : Optional.empty();
    return new DeviceStatus(
        true,
        since,
        faults,
        offsets,
        Optional.of(markWait),
        Optional.of(new DeviceStatus.Clock(clock.wallClockSet(), clock.setAt())));
  }
}
