package org.layroom.dashboard.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.layroom.device.files.FolderTree;
import org.tinylog.Logger;

/** A folder to work in: one that is kept, or a temporary one that is deleted at the end. */
public record ScratchFolder(Path path, boolean kept) implements AutoCloseable {

  public static ScratchFolder folder(String name, Optional<Path> keep) throws IOException {
    return keep.isPresent()
        ? new ScratchFolder(Files.createDirectories(keep.get()), true)
        : new ScratchFolder(Files.createTempDirectory(name), false);
  }

  @Override
  public void close() {
    if (kept) {
      return;
    }
    try {
      FolderTree.delete(path);
    } catch (IOException e) {
      Logger.warn("The folder {} could not be deleted: {}", path, e.getMessage());
    }
  }
}
