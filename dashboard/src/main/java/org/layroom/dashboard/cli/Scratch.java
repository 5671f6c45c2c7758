package org.layroom.dashboard.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.tinylog.Logger;

/** A folder to work in: one that is kept, or a temporary one that is deleted at the end. */
record Scratch(Path path, boolean kept) implements AutoCloseable {

  static Scratch folder(String name, Optional<Path> keep) throws IOException {
    return keep.isPresent()
        ? new Scratch(Files.createDirectories(keep.get()), true)
        : new Scratch(Files.createTempDirectory(name), false);
  }

  @Override
  public void close() {
    if (kept) {
      return;
    }
    try (Stream<Path> files = Files.walk(path)) {
      List<Path> deepestFirst = files.sorted(Comparator.reverseOrder()).toList();
      for (Path file : deepestFirst) {
        Files.deleteIfExists(file);
      }
    } catch (IOException e) {
      Logger.warn("The folder {} could not be deleted: {}", path, e.getMessage());
    }
  }
}
