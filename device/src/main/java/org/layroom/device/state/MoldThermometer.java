package org.layroom.device.state;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import org.layroom.device.fitting.MoldMemory;
import org.tinylog.Logger;

/** The thermometer that was taken for the mold's, kept in a file over restarts. */
public final class MoldThermometer implements MoldMemory {
  private final StateFile file;
  private Optional<String> known = Optional.empty();

  /**
   * What was kept.
   *
   * @param folder the device's data folder
   */
  public MoldThermometer(Path folder) {
    file = new StateFile(folder.resolve("mold-thermometer"));
    try {
      known =
          file.read()
              .map(content -> new String(content, StandardCharsets.UTF_8).strip())
              .filter(id -> id.matches("28-[0-9a-f]{1,12}"));
    } catch (IOException e) {
      Logger.warn("The mold's thermometer saved in {} cannot be read: {}", file, e.getMessage());
    }
  }

  @Override
  public Optional<String> id() {
    return known;
  }

  @Override
  public void remember(String id) {
    known = Optional.of(id);
    try {
      file.write((id + "\n").getBytes(StandardCharsets.UTF_8));
    } catch (IOException e) {
      Logger.warn("The mold's thermometer cannot be saved in {}: {}", file, e.getMessage());
    }
  }
}
