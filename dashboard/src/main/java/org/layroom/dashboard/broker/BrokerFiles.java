package org.layroom.dashboard.broker;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.layroom.device.files.FolderTree;
import org.layroom.device.files.FreeName;

/**
 * The broker's folders on disk. A journal that cannot be read is set aside as it is, and only the
 * newest of those is kept: nothing is lost with it, since a device sends again what is not known to
 * be stored, and both sides say again what they have decided.
 */
record BrokerFiles(Path folder) {
  private static final String DAMAGED = "damaged-";
  private static final DateTimeFormatter DATE =
      DateTimeFormatter.ofPattern("uuuuMMdd-HHmmss").withZone(ZoneOffset.UTC);

  Path journal() {
    return folder.resolve("journal");
  }

  Path bindings() {
    return folder.resolve("bindings");
  }

  Path paging() {
    return folder.resolve("paging");
  }

  Path largeMessages() {
    return folder.resolve("large-messages");
  }

  private List<Path> all() {
    return List.of(journal(), bindings(), paging(), largeMessages());
  }

  /**
   * Moves what is there into a folder of its own.
   *
   * @return that folder; empty when there was nothing
   * @throws IOException when the disk takes no change
   */
  Optional<Path> setAside() throws IOException {
    if (!Files.exists(journal())) {
      return Optional.empty();
    }
    String date = DATE.format(Files.getLastModifiedTime(journal()).toInstant());
    Path aside = FreeName.in(folder, DAMAGED + date, "");
    Files.createDirectory(aside);
    move(folder, aside);
    return Optional.of(aside);
  }

  /** Puts back what was set aside, in place of what was begun since. */
  void putBack(Path aside) throws IOException {
    for (Path begun : all()) {
      FolderTree.delete(begun);
    }
    move(aside, folder);
    Files.delete(aside);
  }

  private void move(Path from, Path to) throws IOException {
    for (Path one : all()) {
      Path there = from.resolve(one.getFileName());
      if (Files.exists(there)) {
        Files.move(there, to.resolve(one.getFileName()));
      }
    }
  }

  /** Deletes what was set aside before. */
  void keepOnly(Path aside) throws IOException {
    try (Stream<Path> inside = Files.list(folder)) {
      for (Path one : inside.toList()) {
        if (String.valueOf(one.getFileName()).startsWith(DAMAGED) && !one.equals(aside)) {
          FolderTree.delete(one);
        }
      }
    }
  }
}
