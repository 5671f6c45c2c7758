package org.layroom.device.state;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.layroom.device.files.WholeFile;

/** A small file that is replaced as a whole: a power cut leaves the old one or the new one. */
final class StateFile {
  private final Path file;

  StateFile(Path file) {
    this.file = file;
  }

  /** What is kept; empty before anything was. */
  Optional<byte[]> read() throws IOException {
    return Files.exists(file) ? Optional.of(Files.readAllBytes(file)) : Optional.empty();
  }

  /** Keeps this instead of what was. */
  void write(byte[] content) throws IOException {
    Files.createDirectories(file.toAbsolutePath().getParent());
    WholeFile.replace(file, content);
  }

  @Override
  public String toString() {
    return file.toString();
  }
}
