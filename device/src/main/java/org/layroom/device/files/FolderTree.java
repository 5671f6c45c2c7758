package org.layroom.device.files;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

/** A folder with all that is in it. */
public final class FolderTree {
  private FolderTree() {}

  /**
   * Deletes a folder with all that is in it; no folder there is no failure. Links are deleted, not
   * followed.
   *
   * @throws IOException when something in it cannot be deleted
   */
  public static void delete(Path folder) throws IOException {
    if (!Files.exists(folder)) {
      return;
    }
    try (Stream<Path> inside = Files.walk(folder)) {
      List<Path> deepestFirst = inside.sorted(Comparator.reverseOrder()).toList();
      for (Path one : deepestFirst) {
        Files.deleteIfExists(one);
      }
    }
  }
}
