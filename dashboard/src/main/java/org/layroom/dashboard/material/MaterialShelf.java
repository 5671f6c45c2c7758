package org.layroom.dashboard.material;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;

/**
 * The materials to choose from: generic presets, each "typical, not yet tested with your can", and
 * the shop's own files, which stand before a preset of the same id.
 */
public final class MaterialShelf {
  /** What stands beside every preset. */
  public static final String TYPICAL = "typical, not yet tested with your can";

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

  private final Map<String, Entry> entries;

  private MaterialShelf(Map<String, Entry> entries) {
    this.entries = entries;
  }

  /** The presets alone. */
  public static MaterialShelf presets() {
    Map<String, Entry> entries = new LinkedHashMap<>();
    for (String id : PRESETS) {
      entries.put(id, new Entry(preset(id), true));
    }
    return new MaterialShelf(entries);
  }

  /**
   * The presets and the files of a folder.
   *
   * @throws InvalidMaterial for the first file that cannot be used
   * @throws IOException when the folder cannot be read
   */
  public static MaterialShelf withFolder(Path folder) throws IOException, InvalidMaterial {
    Map<String, Entry> entries = new LinkedHashMap<>();
    List<Path> files = new ArrayList<>();
    try (DirectoryStream<Path> found = Files.newDirectoryStream(folder, "*.json")) {
      found.forEach(files::add);
    }
    files.sort(null);
    for (Path file : files) {
      Material material = MaterialFile.read(Files.readAllBytes(file));
      entries.put(material.id(), new Entry(material, false));
    }
    presets().entries.forEach(entries::putIfAbsent);
    return new MaterialShelf(entries);
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
