package org.layroom.dashboard.access.device;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.layroom.device.files.WholeFile;

/** Files for their owner alone, from their first byte on, and never half written. */
public final class OwnerOnlyFiles {
  private OwnerOnlyFiles() {}

  /** Makes a folder for its owner alone, unless it is there. */
  public static void folder(Path folder) throws IOException {
    if (!Files.isDirectory(folder)) {
      Files.createDirectories(folder.toAbsolutePath().getParent());
      Files.createDirectory(folder, WholeFile.folderForOwnerOnly());
    }
  }

  /** Writes a file whole, or leaves the one before it as it is. */
  public static void write(Path file, String text) throws IOException {
    write(file, text.getBytes(StandardCharsets.UTF_8));
  }

  /** Writes a file whole, or leaves the one before it as it is. */
  public static void write(Path file, byte[] content) throws IOException {
    WholeFile.replacePrivate(file, content);
  }
}
