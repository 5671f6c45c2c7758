package org.layroom.dashboard.room;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.layroom.device.files.FolderTree;
import org.tinylog.Logger;

/**
 * What version 0.1.0 kept in the data folder and nobody reads any more: the journal of the broker
 * inside, and messages on their way out. Whatever they held is said again by both sides.
 */
final class FormerFolders {
  private static final List<String> OF_THE_BROKER =
      List.of("journal", "bindings", "large-messages");

  private FormerFolders() {}

  static void remove(Path data) {
    Path broker = data.resolve("broker");
    OF_THE_BROKER.forEach(name -> remove(broker.resolve(name), "the built-in broker's"));
    try {
      if (Files.isDirectory(broker)) {
        try (Stream<Path> inside = Files.list(broker)) {
          inside
              .filter(one -> String.valueOf(one.getFileName()).startsWith("damaged-"))
              .toList()
              .forEach(one -> remove(one, "the built-in broker's"));
        }
      }
    } catch (IOException e) {
      Logger.debug("{} cannot be looked into: {}", broker, e.getMessage());
    }
    remove(data.resolve("outgoing"), "for outgoing messages");
  }

  private static void remove(Path folder, String whose) {
    if (!Files.isDirectory(folder)) {
      return;
    }
    try {
      FolderTree.delete(folder);
      Logger.info("Removed {}: a folder {} that is no longer used", folder, whose);
    } catch (IOException e) {
      Logger.warn("{} is no longer used and cannot be removed: {}", folder, e.getMessage());
    }
  }
}
