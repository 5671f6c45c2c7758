package org.layroom.dashboard.backup;

import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Supplier;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.layroom.dashboard.material.MaterialFile;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.predictor.material.InvalidMaterial;
import org.tinylog.Logger;

/** Makes backups of one running dashboard, one at a time. Safe for any number of threads. */
public final class Backups {
  private final Store store;
  private final Path data;
  private final Path materials;
  private final Map<String, String> settings;
  private final Supplier<Instant> now;
  private final ReentrantLock one = new ReentrantLock();

  /**
   * The backups of a dashboard.
   *
   * @param data where there is space for a copy of the store
   * @param materials the shop's own material files
   * @param settings what it runs with that is no secret
   */
  public Backups(
      Store store, Path data, Path materials, Map<String, String> settings, Supplier<Instant> now) {
    this.store = store;
    this.data = data;
    this.materials = materials;
    this.settings = settings;
    this.now = now;
  }

  /** What is made ready before the first byte goes out. */
  public interface Ready {
    OutputStream out() throws IOException;
  }

  /**
   * Writes one backup. Everything that can fail for want of space is done before the first byte.
   *
   * @param ready asked for the way out once the copy is there
   * @throws BackupFailure when one is being made, or the copy cannot be made
   * @throws IOException when the way out breaks off
   */
  public void write(Ready ready) throws IOException {
    if (!one.tryLock()) {
      throw new BackupFailure("A backup is already running. Try again in a minute.");
    }
    try (WorkFolder work = WorkFolder.in(data, "backing-up")) {
      Path copy = work.path().resolve(Manifest.STORE);
      store.copyTo(copy);
      List<Source> sources = new ArrayList<>();
      sources.add(new Source(Manifest.STORE, copy));
      sources.addAll(materials(work.path()));
      List<Manifest.Part> parts = new ArrayList<>();
      for (Source source : sources) {
        parts.add(
            new Manifest.Part(source.name(), Files.size(source.file()), Sha256.of(source.file())));
      }
      Manifest manifest = Manifest.of(now.get(), StoreFolder.check(copy), settings, parts);
      zip(manifest, sources, ready.out());
    } finally {
      one.unlock();
    }
  }

  private record Source(String name, Path file) {}

  /** Copied first, so that a can that is changed meanwhile still fits its checksum. */
  private List<Source> materials(Path work) throws IOException {
    List<Source> sources = new ArrayList<>();
    if (Files.isDirectory(materials)) {
      Files.createDirectories(work.resolve(Manifest.MATERIALS));
      try (DirectoryStream<Path> files = Files.newDirectoryStream(materials, "*.json")) {
        for (Path file : files) {
          if (!usable(file)) {
            continue;
          }
          String name = Manifest.MATERIALS + file.getFileName();
          sources.add(new Source(name, Files.copy(file, work.resolve(name))));
        }
      }
    }
    sources.sort((a, b) -> a.name().compareTo(b.name()));
    return sources;
  }

  /** A restore refuses what no dashboard can read; one bad file spoils no backup. */
  private static boolean usable(Path file) throws IOException {
    try {
      MaterialFile.read(file);
      return true;
    } catch (InvalidMaterial e) {
      Logger.warn("The backup leaves {} out: {}", file.getFileName(), e.getMessage());
      return false;
    }
  }

  private static void zip(Manifest manifest, List<Source> sources, OutputStream out)
      throws IOException {
    try (ZipOutputStream zip = new ZipOutputStream(out)) {
      zip.putNextEntry(new ZipEntry(Manifest.NAME));
      zip.write(JsonMapper.builder().build().writeValueAsBytes(manifest));
      zip.closeEntry();
      for (Source source : sources) {
        zip.putNextEntry(new ZipEntry(source.name()));
        Files.copy(source.file(), zip);
        zip.closeEntry();
      }
    }
  }
}
