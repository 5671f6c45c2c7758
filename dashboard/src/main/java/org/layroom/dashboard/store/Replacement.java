package org.layroom.dashboard.store;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Optional;

/** Puts a store from elsewhere in place of the one that is there, which is set aside. */
final class Replacement {
  private static final DateTimeFormatter DATE =
      DateTimeFormatter.ofPattern("uuuuMMdd-HHmmss").withZone(ZoneOffset.UTC);

  private Replacement() {}

  /** The folder must be locked. */
  static Optional<Path> putInPlace(Path folder, Path copy, boolean replace) throws IOException {
    Path file = folder.resolve(Database.FILE);
    Optional<Path> aside = Optional.empty();
    if (Files.exists(file)) {
      if (!replace) {
        throw new StoreFailure(
            "The data folder "
                + folder
                + " holds a store already. Restore into another folder (--data), or say --replace:"
                + " the store that is there is set aside then, not deleted.");
      }
      String date = DATE.format(Files.getLastModifiedTime(file).toInstant());
      aside = Optional.of(FreeName.in(folder, "layroom-before-restore-" + date, ".db"));
      Path log = folder.resolve(Database.FILE + "-wal");
      if (Files.exists(log)) {
        Files.move(log, folder.resolve(aside.get().getFileName() + "-wal"));
      }
      Files.move(file, aside.get(), StandardCopyOption.ATOMIC_MOVE);
    }
    Files.deleteIfExists(folder.resolve(Database.FILE + "-shm"));
    Files.deleteIfExists(folder.resolve(Database.FILE + "-wal"));
    Files.move(copy, file, StandardCopyOption.ATOMIC_MOVE);
    return aside;
  }
}
