package org.layroom.dashboard.material;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.device.files.WholeFile;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.tinylog.Logger;

/**
 * The materials to choose from: generic presets, each "typical, not yet tested with your can", and
 * the shop's own files, which stand before a preset of the same id.
 */
public final class MaterialShelf {
  /** What stands beside every preset. */
  public static final String TYPICAL = "typical, not yet tested with your can";

  /** The preset that is there whatever the shop's files are. */
  public static final String USUAL = "gp-resin";

  private static final int LONGEST_WORDS = 300;

  private static final List<String> PRESETS =
      List.of("gp-resin", "iso-resin", "iso-gel-coat", "tooling-gel-coat", "finish-coat");

  /**
   * One material to choose.
   *
   * @param preset whether its values are typical ones rather than from a can's data sheet
   */
  public record Entry(Material material, boolean preset) {
    /** The name, with the presets' mark. */
    public String label() {
      return preset ? material.name() + " (" + TYPICAL + ")" : material.name();
    }
  }

  private final Optional<Path> folder;
  private final Map<String, Path> files;
  private final List<String> unusable;
  private volatile Map<String, Entry> entries;

  private MaterialShelf(
      Optional<Path> folder,
      Map<String, Path> files,
      List<String> unusable,
      Map<String, Entry> entries) {
    this.folder = folder;
    this.files = files;
    this.unusable = unusable;
    this.entries = entries;
  }

  /** The presets alone. */
  public static MaterialShelf presets() {
    return new MaterialShelf(Optional.empty(), new HashMap<>(), List.of(), with(Map.of()));
  }

  /**
   * The presets and the files of a folder. A file that cannot be used is left out and told with why
   * ({@link #unusable()}), so that it keeps no dashboard from starting.
   *
   * @throws IOException when the folder cannot be read
   */
  public static MaterialShelf withFolder(Path folder) throws IOException {
    Map<String, Material> own = new LinkedHashMap<>();
    List<Path> files = new ArrayList<>();
    try (DirectoryStream<Path> found = Files.newDirectoryStream(folder, "*.json")) {
      found.forEach(files::add);
    }
    files.sort(null);
    Map<String, Path> places = new HashMap<>();
    List<String> unusable = new ArrayList<>();
    for (Path file : files) {
      try {
        Material material = MaterialFile.read(file);
        Path other = places.putIfAbsent(material.id(), file);
        if (other == null) {
          own.put(material.id(), material);
        } else {
          unusable.add(leftOut(file, other.getFileName() + " has the same id"));
        }
      } catch (InvalidMaterial | IOException e) {
        unusable.add(leftOut(file, String.valueOf(e.getMessage())));
      }
    }
    unusable.forEach(Logger::error);
    return new MaterialShelf(Optional.of(folder), places, List.copyOf(unusable), with(own));
  }

  private static String leftOut(Path file, String why) {
    String words = "The material file " + file.getFileName() + " is not used: " + why;
    return words.length() <= LONGEST_WORDS ? words : words.substring(0, LONGEST_WORDS) + "...";
  }

  /** The files that were left out at the start, each with why, in words. */
  public List<String> unusable() {
    return unusable;
  }

  /** The shop's own materials first, then the presets that they do not stand before. */
  private static Map<String, Entry> with(Map<String, Material> own) {
    Map<String, Entry> entries = new LinkedHashMap<>();
    own.forEach((id, material) -> entries.put(id, new Entry(material, false)));
    PRESETS.forEach(id -> entries.computeIfAbsent(id, name -> new Entry(preset(name), true)));
    return entries;
  }

  private Map<String, Material> own() {
    Map<String, Material> own = new LinkedHashMap<>();
    entries.forEach(
        (id, entry) -> {
          if (!entry.preset()) {
            own.put(id, entry.material());
          }
        });
    return own;
  }

  /**
   * Puts a material of the shop's own on the shelf, in place of one of the same id, as a file in
   * its folder.
   *
   * @param file a material file as {@link MaterialFile#read} takes it
   * @throws InvalidMaterial with everything that is wrong
   * @throws IOException when it cannot be written; the shelf is then as it was
   */
  public synchronized Material keep(byte[] file) throws InvalidMaterial, IOException {
    Material material = MaterialFile.read(file);
    Path place = place(material.id());
    Files.createDirectories(place.toAbsolutePath().getParent());
    WholeFile.replace(place, file);
    files.put(material.id(), place);
    Map<String, Material> own = own();
    own.put(material.id(), material);
    entries = with(own);
    return material;
  }

  /**
   * Takes a material of the shop's own off the shelf; a preset of the same id shows again.
   *
   * @return false when there is none of this id
   * @throws IOException when its file cannot be deleted
   */
  public synchronized boolean remove(String id) throws IOException {
    Map<String, Material> own = own();
    if (own.remove(id) == null) {
      return false;
    }
    Files.deleteIfExists(place(id));
    files.remove(id);
    entries = with(own);
    return true;
  }

  private Path place(String id) throws IOException {
    Path known = files.get(id);
    return known != null
        ? known
        : folder
            .orElseThrow(
                () ->
                    new IOException(
                        "there is no folder for your own materials: set material.folder"))
            .resolve(id + ".json");
  }

  private static Material preset(String id) {
    try (InputStream in = MaterialShelf.class.getResourceAsStream(id + ".json")) {
      if (in == null) {
        throw new IllegalStateException("preset " + id + " is missing from the jar");
      }
      return MaterialFile.read(in.readAllBytes());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InvalidMaterial e) {
      throw new IllegalStateException("preset " + id + ": " + e.getMessage(), e);
    }
  }

  public Optional<Entry> find(String id) {
    return Optional.ofNullable(entries.get(id));
  }

  public List<Entry> all() {
    return List.copyOf(entries.values());
  }

  public List<String> ids() {
    return List.copyOf(entries.keySet());
  }
}
