package org.layroom.device.state;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import org.layroom.device.alarm.LocalAlarm;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.RoomVerdict;
import org.layroom.predictor.material.TemperatureRange;
import org.tinylog.Logger;

/**
 * At what temperatures the can that was chosen on the dashboard may be used, kept in a file, so
 * that a device that starts with the network gone lights no lamp that the dashboard would not.
 */
public final class SelectedMaterial {
  private final StateFile file;
  private final LocalAlarm alarm;
  private Optional<TemperatureRange> kept = Optional.empty();

  /**
   * The can that a device knows of.
   *
   * @param folder the device's data folder
   */
  public SelectedMaterial(Path folder, LocalAlarm alarm) {
    this.file = new StateFile(folder.resolve("can.json"));
    this.alarm = alarm;
  }

  /** Goes on by what was kept before the last stop; a file that cannot be read is told and left. */
  public void recall() {
    try {
      Optional<byte[]> body = file.read();
      if (body.isPresent()) {
        RoomVerdict known = RoomVerdict.read(body.get()).withoutVerdict();
        kept = known.temperatureC();
        alarm.told(known);
      }
    } catch (IOException | MalformedMessage e) {
      Logger.warn("The material saved in {} cannot be read: {}", file, e.getMessage());
    }
  }

  /** Hands a verdict on, and keeps the can's temperatures where they are new. */
  public void take(RoomVerdict verdict) {
    alarm.told(verdict);
    if (verdict.temperatureC().isEmpty() || verdict.temperatureC().equals(kept)) {
      return;
    }
    try {
      file.write(verdict.withoutVerdict().write());
      kept = verdict.temperatureC();
    } catch (IOException e) {
      Logger.warn("The material's temperatures cannot be saved in {}: {}", file, e.getMessage());
    }
  }
}
