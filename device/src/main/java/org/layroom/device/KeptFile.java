package org.layroom.device;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.Optional;

/** A small file that is replaced as a whole: a power cut leaves the old one or the new one. */
final class KeptFile {
  private final Path file;

  KeptFile(Path file) {
    this.file = file;
  }

  /** What is kept; empty before anything was. */
  Optional<byte[]> read() throws IOException {
    return Files.exists(file) ? Optional.of(Files.readAllBytes(file)) : Optional.empty();
  }

  /** Keeps this instead of what was. */
  void write(byte[] content) throws IOException {
    Files.createDirectories(file.toAbsolutePath().getParent());
    Path next = file.resolveSibling(file.getFileName() + ".new");
    try (FileChannel channel =
        FileChannel.open(
            next,
            StandardOpenOption.CREATE,
            StandardOpenOption.TRUNCATE_EXISTING,
            StandardOpenOption.WRITE)) {
      ByteBuffer body = ByteBuffer.wrap(content);
      while (body.hasRemaining()) {
        channel.write(body);
      }
      channel.force(true);
    }
    Files.move(next, file, StandardCopyOption.REPLACE_EXISTING, StandardCopyOption.ATOMIC_MOVE);
  }

  @Override
  public String toString() {
    return file.toString();
  }
}
