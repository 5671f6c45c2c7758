package org.layroom.device.state;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxInUse;
import org.layroom.device.outbox.OutboxOptions;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.tinylog.Logger;

/**
 * Where samples wait: the outbox in the data folder or, where that takes nothing at the start, one
 * in the folder for temporary files, told as a fault for as long as it lasts. Measuring, lamps and
 * buzzer do not depend on a disk that has turned read-only.
 *
 * @param trouble why samples do not outlast a restart; empty when they do
 */
public record SampleStorage(Outbox outbox, Optional<String> trouble) {

  /**
   * Opens the outbox.
   *
   * @throws IOException when another device has it open, or no folder at all takes anything
   */
  public static SampleStorage in(Path folder, OutboxOptions options) throws IOException {
    try {
      return new SampleStorage(Outbox.open(folder, options), Optional.empty());
    } catch (OutboxInUse e) {
      throw e;
    } catch (IOException e) {
      String words =
          "the folder "
              + folder
              + " cannot be written ("
              + e
              + "): check the disk and the folder's owner. Samples are saved in a temporary"
              + " folder and are lost at the next restart";
      Logger.error(words);
      return new SampleStorage(elsewhere(e, options), Optional.of(words));
    }
  }

  private static Outbox elsewhere(IOException trouble, OutboxOptions options) throws IOException {
    try {
      return Outbox.open(Files.createTempDirectory("layroom-outbox"), options);
    } catch (IOException e) {
      trouble.addSuppressed(e);
      throw trouble;
    }
  }

  /** For the status. */
  public List<PartFault> faults() {
    return trouble.map(words -> new PartFault("outbox", words)).stream().toList();
  }
}
