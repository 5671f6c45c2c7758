package org.layroom.dashboard.backup;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;
import org.layroom.dashboard.material.MaterialFile;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.StrictJson;
import org.layroom.predictor.material.InvalidMaterial;

/**
 * Puts a backup back. Everything is unpacked beside the data and checked first: format, names,
 * sizes, checksums, each material as a start would read it, and the store page by page with its
 * tables. Only then does anything change.
 */
public final class Restore {
  private static final int LARGEST_MANIFEST = 1024 * 1024;
  private static final int MOST_MATERIALS = 1000;
  private static final Pattern MATERIAL = Pattern.compile("materials/[A-Za-z0-9._-]{1,80}\\.json");

  private final Path file;

  private Restore(Path file) {
    this.file = file;
  }

  /**
   * What was done.
   *
   * @param setAside what was there before, under its new name
   */
  public record Done(Manifest manifest, List<Path> setAside) {}

  /**
   * Looks whether a backup is whole, in a folder with space for it.
   *
   * @throws BackupFailure when it is not, or cannot be read; says why
   */
  public static Manifest check(Path file, Path space) {
    try (WorkFolder work = WorkFolder.in(space, "checking-backup")) {
      return new Restore(file).unpack(work.path());
    } catch (IOException e) {
      throw unreadable(file, e);
    }
  }

  /**
   * Restores into a data folder that no dashboard uses.
   *
   * @param data made when missing
   * @param materials where the shop's own materials go
   * @param replace whether what is there may be set aside
   * @throws BackupFailure when the backup is damaged or from a newer Layroom, or the folder holds
   *     something already; nothing is changed then
   */
  public static Done into(Path file, Path data, Path materials, boolean replace) {
    try {
      Files.createDirectories(data);
      try (WorkFolder work = WorkFolder.in(data, "restoring")) {
        Manifest manifest = new Restore(file).unpack(work.path());
        Optional<Path> before =
            StoreFolder.putInPlace(data, work.path().resolve(Manifest.STORE), replace);
        List<Path> aside = new ArrayList<>(before.stream().toList());
        aside.addAll(materials(work.path().resolve(Manifest.MATERIALS), materials));
        return new Done(manifest, aside);
      }
    } catch (StoreFailure e) {
      throw new BackupFailure(String.valueOf(e.getMessage()), e);
    } catch (IOException e) {
      throw unreadable(file, e);
    }
  }

  private static BackupFailure unreadable(Path file, IOException e) {
    return new BackupFailure("The backup " + file + " cannot be used: " + e, e);
  }

  private Manifest unpack(Path work) throws IOException {
    try (ZipFile zip = new ZipFile(file.toFile())) {
      Manifest manifest = manifest(zip);
      Set<String> names = new HashSet<>();
      for (Manifest.Part part : manifest.files()) {
        if (!names.add(part.name()) || !known(part.name())) {
          throw damaged("it lists " + part.name() + ", which does not belong in a backup");
        }
        unpack(zip, part, work);
      }
      if (names.size() > MOST_MATERIALS + 1) {
        throw damaged("it holds more than " + MOST_MATERIALS + " materials");
      }
      if (zip.size() != names.size() + 1 || !names.contains(Manifest.STORE)) {
        throw damaged("its contents do not match its list");
      }
      requireMaterials(work, names);
      int schema = StoreFolder.check(work.resolve(Manifest.STORE));
      if (schema != manifest.schema()) {
        throw damaged("the store inside has another version than its list says");
      }
      return manifest;
    } catch (ZipException e) {
      throw damaged("the file is incomplete (" + e.getMessage() + ")");
    }
  }

  private static boolean known(String name) {
    return name.equals(Manifest.STORE) || MATERIAL.matcher(name).matches();
  }

  private Manifest manifest(ZipFile zip) throws IOException {
    ZipEntry entry = zip.getEntry(Manifest.NAME);
    if (entry == null || entry.getSize() > LARGEST_MANIFEST) {
      throw damaged("it has no list of contents");
    }
    JsonMapper json = StrictJson.mapper(16);
    JsonNode tree;
    try (InputStream in = zip.getInputStream(entry)) {
      tree = json.readTree(in.readNBytes(LARGEST_MANIFEST));
    }
    int format = tree.path("format").asInt();
    if (format > Manifest.FORMAT) {
      throw new BackupFailure(
          "The backup "
              + file
              + " was made by a newer Layroom (its format is "
              + format
              + ", this program knows "
              + Manifest.FORMAT
              + "). Install that newer Layroom and restore with it.");
    }
    try {
      return json.treeToValue(tree, Manifest.class);
    } catch (JsonProcessingException | RuntimeException e) {
      throw damaged("its list cannot be read");
    }
  }

  private void unpack(ZipFile zip, Manifest.Part part, Path work) throws IOException {
    ZipEntry entry = zip.getEntry(part.name());
    if (entry == null || entry.getSize() != part.bytes()) {
      throw damaged(part.name() + " is missing or has the wrong length");
    }
    if (part.bytes() > Files.getFileStore(work).getUsableSpace()) {
      throw new BackupFailure(
          "The backup " + file + " needs more space than there is in " + work.getParent() + ".");
    }
    Path file = work.resolve(part.name());
    Files.createDirectories(Optional.ofNullable(file.getParent()).orElse(work));
    try (InputStream in = zip.getInputStream(entry);
        OutputStream out = Files.newOutputStream(file)) {
      if (!Sha256.copy(in, out, part.bytes()).equals(part.sha256())) {
        throw damaged(part.name() + " has the wrong checksum");
      }
    }
  }

  private void requireMaterials(Path work, Set<String> names) throws IOException {
    Set<String> ids = new HashSet<>();
    for (String name : names) {
      if (MATERIAL.matcher(name).matches()) {
        try {
          if (!ids.add(MaterialFile.read(work.resolve(name)).id())) {
            throw damaged(name + " has the id of another material in it");
          }
        } catch (InvalidMaterial e) {
          throw damaged(name + " is no material: " + e.getMessage());
        }
      }
    }
  }

  private BackupFailure damaged(String why) {
    return new BackupFailure(
        "The backup "
            + file
            + " is damaged or not a Layroom backup: "
            + why
            + ". Nothing was changed. Use another one.");
  }

  /** Materials that are there and differ are set aside, not overwritten. */
  private static List<Path> materials(Path from, Path to) throws IOException {
    List<Path> aside = new ArrayList<>();
    if (!Files.isDirectory(from)) {
      return aside;
    }
    Files.createDirectories(to);
    try (DirectoryStream<Path> files = Files.newDirectoryStream(from)) {
      for (Path file : files) {
        Path place = to.resolve(String.valueOf(file.getFileName()));
        if (Files.exists(place)) {
          if (Files.mismatch(place, file) < 0) {
            continue;
          }
          Path old = free(place);
          Files.move(place, old);
          aside.add(old);
        }
        Files.copy(file, place);
      }
    }
    return aside;
  }

  private static Path free(Path place) {
    Path old = place.resolveSibling(place.getFileName() + ".before-restore");
    for (int i = 2; Files.exists(old); i++) {
      old = place.resolveSibling(place.getFileName() + ".before-restore-" + i);
    }
    return old;
  }
}
