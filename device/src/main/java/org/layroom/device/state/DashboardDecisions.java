package org.layroom.device.state;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import org.layroom.device.alarm.LocalAlarm;
import org.layroom.device.sampling.CleanAir;
import org.layroom.device.sampling.CurrentCleanAir;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.MalformedMessage;
import org.tinylog.Logger;

/**
 * What was decided upstairs, taken by alarm, level and corrections and kept in a file, so that a
 * device that starts with the network gone goes on by it.
 */
public final class DashboardDecisions {
  private final StateFile file;
  private final CurrentCleanAir cleanAir;
  private final CurrentOffsets offsets;
  private final LocalAlarm alarm;
  private Optional<Instant> newest = Optional.empty();

  /**
   * Decisions that are kept in a folder.
   *
   * @param folder the device's data folder
   */
  public DashboardDecisions(
      Path folder, CurrentCleanAir cleanAir, CurrentOffsets offsets, LocalAlarm alarm) {
    this.file = new StateFile(folder.resolve("settings.json"));
    this.cleanAir = cleanAir;
    this.offsets = offsets;
    this.alarm = alarm;
  }

  /** Goes on by what was kept before the last stop; a file that cannot be read is told and left. */
  public void recall() {
    try {
      Optional<byte[]> kept = file.read();
      if (kept.isPresent()) {
        apply(DeviceSettings.read(kept.get()));
      }
    } catch (IOException | MalformedMessage e) {
      Logger.warn("The settings saved in {} cannot be read: {}", file, e.getMessage());
    }
  }

  /** Takes and keeps what comes from upstairs, where it is newer than what is known. */
  public void take(DeviceSettings decided) {
    if (newest.filter(known -> !decided.decided().isAfter(known)).isPresent()) {
      return;
    }
    apply(decided);
    try {
      file.write(decided.write());
    } catch (IOException e) {
      Logger.warn("The dashboard's settings cannot be saved in {}: {}", file, e.getMessage());
    }
  }

  private void apply(DeviceSettings decided) {
    newest = Optional.of(decided.decided());
    decided
        .cleanAir()
        .ifPresent(reading -> cleanAir.offer(new CleanAir(reading.raw(), reading.taken())));
    offsets.decided(decided.offsets());
    alarm.decided(decided);
  }
}
