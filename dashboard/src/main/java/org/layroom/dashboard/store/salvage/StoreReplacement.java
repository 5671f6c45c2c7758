package org.layroom.dashboard.store.salvage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Optional;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.dashboard.store.sqlite.SqliteFile;
import org.layroom.device.files.FreeName;

/** Puts a store from elsewhere in place of the one that is there, which is set aside. */
final class StoreReplacement {
  private static final DateTimeFormatter DATE =
      DateTimeFormatter.ofPattern("uuuuMMdd-HHmmss").withZone(ZoneOffset.UTC);

  private StoreReplacement() {}

  /** The folder must be locked. */
  static Optional<Path> putInPlace(Path folder, Path copy, boolean replace) throws IOException {
    Path file = folder.resolve(SqliteFile.NAME);
    Optional<Path> aside = Optional.empty();
    if (Files.exists(file)) {
      if (!replace) {
        throw new StoreFailure(
            "The data folder "
                + folder
                + " already contains a store. Restore into another folder (--data), or add"
                + " --replace: the existing store is then moved aside, not deleted.");
      }
      String date = DATE.format(Files.getLastModifiedTime(file).toInstant());
      aside = Optional.of(FreeName.in(folder, "layroom-before-restore-" + date, ".db"));
      Path log = folder.resolve(SqliteFile.NAME + "-wal");
      if (Files.exists(log)) {
        Files.move(log, folder.resolve(aside.get().getFileName() + "-wal"));
      }
      Files.move(file, aside.get(), StandardCopyOption.ATOMIC_MOVE);
    }
    Files.deleteIfExists(folder.resolve(SqliteFile.NAME + "-shm"));
    Files.deleteIfExists(folder.resolve(SqliteFile.NAME + "-wal"));
    Files.move(copy, file, StandardCopyOption.ATOMIC_MOVE);
    return aside;
  }
}
