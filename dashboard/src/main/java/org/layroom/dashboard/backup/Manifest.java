package org.layroom.dashboard.backup;

import java.time.Instant;
import java.util.List;
import java.util.Map;

/**
 * The first entry of a backup: what is in it.
 *
 * @param format grows when a reader of today could not read it
 * @param made when, ISO 8601
 * @param schema version of the store inside
 * @param settings what the dashboard ran with that is no secret, to be typed again elsewhere
 * @param files every other entry
 */
public record Manifest(
    int format, String made, int schema, Map<String, String> settings, List<Part> files) {
  /** What this program writes. */
  static final int FORMAT = 1;

  static final String NAME = "manifest.json";
  static final String STORE = "layroom.db";
  static final String MATERIALS = "materials/";

  public Manifest {
    settings = Map.copyOf(settings);
    files = List.copyOf(files);
  }

  /**
   * One file.
   *
   * @param sha256 in hex
   */
  public record Part(String name, long bytes, String sha256) {}

  static Manifest of(Instant made, int schema, Map<String, String> settings, List<Part> files) {
    return new Manifest(FORMAT, made.toString(), schema, settings, files);
  }
}
