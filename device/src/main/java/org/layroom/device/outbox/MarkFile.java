package org.layroom.device.outbox;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.layroom.device.files.WholeFile;
import org.tinylog.Logger;

/**
 * The file that says up to which number an outbox is stored upstairs. It is written seldom, to
 * spare the card: losing it only sends something twice.
 */
final class MarkFile {
  /** Marks beyond this cannot be ours. */
  static final long LARGEST = 1_000_000_000_000_000L;

  private static final long STEP = 360;

  private final Path file;
  private long written;

  private MarkFile(Path file, long written) {
    this.file = file;
    this.written = written;
  }

  /** The mark of a folder; 0 where there is none, or none that can be read. */
  static MarkFile read(Path folder) throws IOException {
    Path file = folder.resolve("stored");
    if (!Files.exists(file)) {
      return new MarkFile(file, 0);
    }
    try {
      long read = Long.parseLong(Files.readString(file, StandardCharsets.ISO_8859_1).strip());
      return new MarkFile(file, read >= 0 && read <= LARGEST ? read : 0);
    } catch (NumberFormatException e) {
      Logger.warn("The stored mark cannot be read: all waiting samples are sent again");
      return new MarkFile(file, 0);
    }
  }

  /** The mark that is on the disk. */
  long written() {
    return written;
  }

  /** Whether a mark is far enough ahead of the one on the disk. */
  boolean isDue(long mark) {
    return mark - written >= STEP;
  }

  /** Writes a mark; false, with a word in the log, when that fails. */
  boolean write(long mark) {
    try {
      WholeFile.replace(file, line(mark));
      written = mark;
      return true;
    } catch (IOException e) {
      Logger.warn("The stored mark cannot be written ({})", e.getMessage());
      return false;
    }
  }

  /** A small file of one value. */
  static byte[] line(Object value) {
    return (value + "\n").getBytes(StandardCharsets.ISO_8859_1);
  }
}
