package org.layroom.dashboard.forecast;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.recording.RoomRecording;
import org.layroom.dashboard.recording.UnusableRecording;
import org.tinylog.Logger;

/** The file of outdoor temperatures that the settings name, read anew when it has changed. */
final class OutdoorFile {
  private final Optional<Path> file;
  private final ZoneId zone;
  private FileTime read = FileTime.fromMillis(Long.MIN_VALUE);
  private Map<Instant, Double> values = Map.of();
  private int version;

  OutdoorFile(Optional<Path> file, ZoneId zone) {
    this.file = file;
    this.zone = zone;
  }

  /** Looks whether the file has changed; counts up when it has. */
  synchronized int version() {
    file.ifPresent(this::look);
    return version;
  }

  /** What it said when it was last looked at, degC; empty when it could not be read. */
  synchronized Map<Instant, Double> values() {
    return values;
  }

  private void look(Path path) {
    FileTime changed;
    try {
      changed = Files.getLastModifiedTime(path);
    } catch (IOException e) {
      changed = FileTime.fromMillis(0);
    }
    if (changed.equals(read)) {
      return;
    }
    read = changed;
    version++;
    try {
      RoomRecording recording = new RoomRecording("outdoor.file", path, zone);
      values = recording.temperatures(Instant.MAX);
      recording.warnings().forEach(warning -> Logger.warn(warning.reason()));
    } catch (UnusableRecording e) {
      values = Map.of();
      Logger.warn("outdoor.file: {}; forecasts run without it", e.getMessage());
    }
  }
}
