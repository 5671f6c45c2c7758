package org.layroom.device;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import org.layroom.device.alarm.LocalAlarm;
import org.layroom.device.sampling.CleanAir;
import org.layroom.device.sampling.KnownCleanAir;
import org.layroom.device.sampling.KnownOffsets;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.MalformedMessage;
import org.tinylog.Logger;

/**
 * What was decided upstairs, taken by alarm, level and corrections and kept in a file, so that a
 * device that starts with the network gone goes on by it.
 */
final class Decisions {
  private final KeptFile file;
  private final KnownCleanAir cleanAir;
  private final KnownOffsets offsets;
  private final LocalAlarm alarm;
  private Optional<Instant> newest = Optional.empty();

  /**
   * Decisions that are kept in a folder.
   *
   * @param folder the device's data folder
   */
  Decisions(Path folder, KnownCleanAir cleanAir, KnownOffsets offsets, LocalAlarm alarm) {
    this.file = new KeptFile(folder.resolve("settings.json"));
    this.cleanAir = cleanAir;
    this.offsets = offsets;
    this.alarm = alarm;
  }

  /** Goes on by what was kept before the last stop; a file that cannot be read is told and left. */
  void recall() {
    try {
      Optional<byte[]> kept = file.read();
      if (kept.isPresent()) {
        apply(DeviceSettings.read(kept.get()));
      }
    } catch (IOException | MalformedMessage e) {
      Logger.warn("The decisions kept in {} cannot be read: {}", file, e.getMessage());
    }
  }

  /** Takes and keeps what comes from upstairs, where it is newer than what is known. */
  void take(DeviceSettings decided) {
    if (newest.filter(known -> !decided.decided().isAfter(known)).isPresent()) {
      return;
    }
    apply(decided);
    try {
      file.write(decided.write());
    } catch (IOException e) {
      Logger.warn("The decisions from upstairs cannot be kept in {}: {}", file, e.getMessage());
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
