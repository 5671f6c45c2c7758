package org.layroom.device.outbox;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.layroom.device.files.WholeFile;

/**
 * Tells an outbox that was not closed by a killed program from one that was not closed by a power
 * cut. What a killed program has written is there; after a power cut the last part may be missing.
 * A file holds the name that Linux gives to each start of the machine, from opening to closing.
 */
final class MachineStart {
  private static final Path LINUX = Path.of("/proc/sys/kernel/random/boot_id");
  private static final String FILE = "open";

  private final Path file;
  private final String now;

  private MachineStart(Path file, String now) {
    this.file = file;
    this.now = now;
  }

  /** For the outbox in a folder. */
  static MachineStart of(Path folder) {
    return of(folder, now());
  }

  /**
   * The same, for tests.
   *
   * @param now names this start of the machine; empty when it cannot be told from others
   */
  static MachineStart of(Path folder, String now) {
    return new MachineStart(folder.resolve(FILE), now);
  }

  private static String now() {
    try {
      return Files.readString(LINUX, StandardCharsets.ISO_8859_1).strip();
    } catch (IOException e) {
      return "";
    }
  }

  /** Whether the outbox was open when the machine stopped, as far as can be told. */
  boolean stoppedWhileOpen() throws IOException {
    if (!Files.exists(file)) {
      return false;
    }
    String then = Files.readString(file, StandardCharsets.ISO_8859_1).strip();
    return now.isEmpty() || !then.equals(now);
  }

  void opened() throws IOException {
    WholeFile.replace(file, (now + "\n").getBytes(StandardCharsets.ISO_8859_1));
  }

  /** Everything is on the disk. */
  void closed() throws IOException {
    Files.deleteIfExists(file);
  }
}
