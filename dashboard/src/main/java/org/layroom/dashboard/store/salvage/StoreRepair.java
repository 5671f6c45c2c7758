package org.layroom.dashboard.store.salvage;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileTime;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Optional;
import org.layroom.dashboard.store.RepairReport;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.dashboard.store.sqlite.RepairSetting;
import org.layroom.dashboard.store.sqlite.Schema;
import org.layroom.dashboard.store.sqlite.SqliteFile;
import org.layroom.device.files.FolderTree;
import org.layroom.device.files.FreeName;
import org.tinylog.Logger;

/**
 * Looks at the store before it is opened. A damaged one is rebuilt in a folder of its own from a
 * copy; only when that has come to its end is the damaged file set aside, untouched, under the time
 * it was last written, and the new one put in its place. A stop at any moment loses neither.
 */
final class StoreRepair {
  private static final String READY = "layroom-mended.db";
  private static final String WAL = "-wal";
  private static final DateTimeFormatter DATE =
      DateTimeFormatter.ofPattern("uuuuMMdd-HHmmss").withZone(ZoneOffset.UTC);

  private final Path folder;
  private final Path file;
  private final Path workshop;
  private final Schema schema;

  StoreRepair(Path folder, Schema schema) {
    this.folder = folder;
    this.schema = schema;
    file = folder.resolve(SqliteFile.NAME);
    workshop = folder.resolve("mending");
  }

  /** A rebuilt store and what was found for it. */
  private record Rebuilt(Path file, Salvage.Found found) {}

  /**
   * Leaves a whole store, or none where there is none yet.
   *
   * @throws StoreFailure when the file is another program's or a newer Layroom's, or when nothing
   *     in it can be read: it is left as it is
   */
  void mendIfDamaged() throws SQLException {
    try {
      finishLast();
      Optional<String> fault = Files.exists(file) ? fault() : Optional.empty();
      if (fault.isPresent()) {
        Logger.warn("The store {} is damaged: {}. It is being rebuilt.", file, fault.get());
        mend(fault.get());
      }
    } catch (IOException e) {
      throw new StoreFailure(
          "The store in "
              + folder
              + " is damaged and cannot be rebuilt there: "
              + e
              + ". Free space of twice the size of the store and start again. The store was not"
              + " changed.",
          e);
    }
  }

  private Optional<String> fault() throws SQLException, IOException {
    if (Files.size(file) == 0) {
      return Files.exists(beside(WAL)) ? Optional.of("the file is empty") : Optional.empty();
    }
    try (Connection connection = SqliteFile.connect(file, false, 8192)) {
      schema.versionOf(connection);
      return Integrity.fault(connection);
    } catch (SQLException e) {
      if (Integrity.isDamage(e)) {
        return Optional.of(String.valueOf(e.getMessage()));
      }
      throw e;
    }
  }

  private Path beside(String ending) {
    return folder.resolve(SqliteFile.NAME + ending);
  }

  private void mend(String problem) throws SQLException, IOException {
    clear();
    Files.createDirectories(workshop);
    Rebuilt best = best();
    if (best.found().rows() == 0 && Files.size(file) > 0) {
      clear();
      throw new StoreFailure(
          "layroom.db in the data folder is damaged or not a store, and nothing in it can be read ("
              + problem
              + "). It was not changed. Move it away, and restore a backup with \"layroom"
              + " restore\".");
    }
    FileTime written = Files.getLastModifiedTime(file);
    Path aside = FreeName.in(folder, "layroom-damaged-" + DATE.format(written.toInstant()), ".db");
    RepairReport mended =
        new RepairReport(
            problem, String.valueOf(aside.getFileName()), best.found().rows(), best.found().lost());
    describe(best.file(), mended);
    Files.move(best.file(), folder.resolve(READY), StandardCopyOption.ATOMIC_MOVE);
    sync();
    if (Files.exists(beside(WAL))) {
      Files.move(beside(WAL), folder.resolve(aside.getFileName() + WAL));
    }
    Files.deleteIfExists(beside("-shm"));
    Files.move(file, aside, StandardCopyOption.ATOMIC_MOVE);
    finishLast();
    clear();
    Logger.warn("{}", mended.words());
  }

  /** The last step, taken again when the program was stopped just before it. */
  private void finishLast() throws IOException {
    Path ready = folder.resolve(READY);
    if (Files.exists(ready) && !Files.exists(file)) {
      Files.deleteIfExists(beside("-shm"));
      Files.move(ready, file, StandardCopyOption.ATOMIC_MOVE);
      sync();
    } else {
      Files.deleteIfExists(ready);
    }
  }

  /**
   * What yields most and misses least: the file as it is, or with its first page replaced, in part
   * or whole.
   */
  private Rebuilt best() throws SQLException, IOException {
    FirstPage pages = new FirstPage(workshop, schema);
    Optional<Rebuilt> best = Optional.empty();
    for (FirstPage.Patch patch : pages.patches()) {
      Rebuilt rebuilt = rebuild(patch.change(), best.isPresent() ? "second.db" : "first.db");
      if (best.isEmpty() || rebuilt.found().isBetterThan(best.get().found())) {
        best = Optional.of(new Rebuilt(workshop.resolve("best.db"), rebuilt.found()));
        Files.move(rebuilt.file(), best.get().file(), StandardCopyOption.REPLACE_EXISTING);
      }
      if (patch.keepsTables() && rebuilt.found().unread() == 0 && rebuilt.found().rows() > 0) {
        break;
      }
    }
    return best.orElseThrow();
  }

  private Rebuilt rebuild(FirstPage.Change patch, String name) throws SQLException, IOException {
    Path copy = workshop.resolve("damaged.db");
    Files.deleteIfExists(workshop.resolve("damaged.db-shm"));
    Files.copy(file, copy, StandardCopyOption.REPLACE_EXISTING);
    Path log = workshop.resolve("damaged.db-wal");
    Files.deleteIfExists(log);
    if (Files.exists(beside(WAL))) {
      Files.copy(beside(WAL), log);
    }
    patch.on(copy);
    Path rebuilt = workshop.resolve(name);
    Files.deleteIfExists(rebuilt);
    return new Rebuilt(rebuilt, Salvage.read(copy, rebuilt, schema));
  }

  private static void describe(Path store, RepairReport mended) throws SQLException, IOException {
    try (Connection connection = SqliteFile.connect(store, false, 1024)) {
      RepairSetting.write(connection, mended);
    }
  }

  private void sync() throws IOException {
    try (FileChannel directory = FileChannel.open(folder, StandardOpenOption.READ)) {
      directory.force(true);
    }
  }

  private void clear() throws IOException {
    FolderTree.delete(workshop);
  }
}
