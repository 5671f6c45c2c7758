package org.layroom.dashboard.credential;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Set;

/** Files for their owner alone, from their first byte on, and never half written. */
public final class PrivateFiles {
  private PrivateFiles() {}

  /** Makes a folder for its owner alone, unless it is there. */
  public static void folder(Path folder) throws IOException {
    if (!Files.isDirectory(folder)) {
      Files.createDirectories(folder.toAbsolutePath().getParent());
      Files.createDirectory(folder, attributes("rwx------"));
    }
  }

  /** Writes a file whole, or leaves the one before it as it is. */
  public static void write(Path file, String text) throws IOException {
    write(file, text.getBytes(StandardCharsets.UTF_8));
  }

  /** Writes a file whole, or leaves the one before it as it is. */
  public static void write(Path file, byte[] content) throws IOException {
    Path next = file.resolveSibling(file.getFileName() + ".new");
    Files.deleteIfExists(next);
    try (FileChannel channel =
        FileChannel.open(
            next,
            Set.of(StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE),
            attributes("rw-------"))) {
      ByteBuffer bytes = ByteBuffer.wrap(content);
      while (bytes.hasRemaining()) {
        channel.write(bytes);
      }
      channel.force(true);
    }
    Files.move(next, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
  }

  private static FileAttribute<?>[] attributes(String permissions) {
    boolean posix = FileSystems.getDefault().supportedFileAttributeViews().contains("posix");
    return posix
        ? new FileAttribute<?>[] {
          PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(permissions))
        }
        : new FileAttribute<?>[0];
  }
}
