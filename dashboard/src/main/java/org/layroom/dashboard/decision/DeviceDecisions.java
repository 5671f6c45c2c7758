package org.layroom.dashboard.decision;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.LeaveLevels;

/**
 * Tells devices what was decided for them: the room's settings and job, and what belongs to the
 * device alone. Not for several threads.
 */
public final class DeviceDecisions {
  private final RoomDecisions rooms;
  private final SensorOffsets offsets;
  private final SentDecisions sent;

  public DeviceDecisions(RoomDecisions rooms, SensorOffsets offsets, SentDecisions sent) {
    this.rooms = rooms;
    this.offsets = offsets;
    this.sent = sent;
  }

  /**
   * A device as its decisions are made for it.
   *
   * @param full nothing quiets its warnings
   * @param cleanAir the clean-air reading that is kept for it
   * @param leave what was learned of its chip; empty where nothing was, and for a detector
   * @param alarm what it says itself of its alarm
   * @param doubt why its vapor sensor is not believed, in words
   */
  public record Device(
      Channel channel,
      boolean full,
      Optional<CleanAirReading> cleanAir,
      Optional<LeaveLevels> leave,
      Optional<AlarmState> alarm,
      Optional<String> doubt) {}

  /** Tells a device again what it was told last, or for the first time where something stands. */
  public void tellAgain(Device device, Instant now) {
    if (!sent.again(device.channel()) && somethingStands(device)) {
      tell(device, now, "");
    }
  }

  /** Tells a device again what it was told last, if it ever was. */
  public void tellAgain(Channel channel) {
    sent.again(channel);
  }

  private boolean somethingStands(Device device) {
    Channel channel = device.channel();
    return rooms.job(channel.room()).isPresent()
        || device.cleanAir().isPresent()
        || !offsets.of(channel).isEmpty()
        || !rooms.settings(channel.room()).decided().equals(Instant.EPOCH);
  }

  /**
   * Tells a device what was decided now.
   *
   * @param by who decides; empty where nobody is named
   */
  public void tell(Device device, Instant now, String by) {
    sent.anew(device.channel(), message(device, now, by), device.alarm());
  }

  private DeviceSettings message(Device device, Instant now, String by) {
    AirSettings decided = rooms.settings(device.channel().room());
    List<SensorOffset> corrections = offsets.of(device.channel());
    return new DeviceSettings(
        now,
        by,
        decided.mode(),
        decided.limit().eightHourPpm(),
        decided.limit().shortTermPpm(),
        decided.styreneFactor(),
        device.full(),
        device
            .cleanAir()
            .map(
                one ->
                    new DeviceSettings.CleanAir(
                        one.ticks(), one.taken(), one.temperatureC(), one.humidityPct())),
        device.leave(),
        rooms.wiping(device.channel().room()),
        rooms
            .job(device.channel().room())
            .map(
                one ->
                    new DeviceSettings.Job(
                        one.started(), one.until(), one.who(), one.fanOn(), one.respiratorOn())),
        corrections,
        device.doubt());
  }
}
