package org.layroom.dashboard.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;

/**
 * The file of every name that somebody outside may rely on: commands and options, exit codes,
 * fields of JSON answers with their types, topics, SenML records with their units, places of the
 * API with their methods and parameters, and settings. One name a line.
 */
final class FrozenNames {
  private static final Path FILE =
      Path.of("src", "test", "resources", "org", "layroom", "dashboard", "cli", "names.txt");

  private FrozenNames() {}

  static Set<String> read() throws IOException {
    Set<String> names = new TreeSet<>();
    for (String line : Files.readAllLines(FILE)) {
      if (!line.isBlank()) {
        names.add(line);
      }
    }
    return names;
  }

  static void write(Set<String> names) throws IOException {
    Files.createDirectories(FILE.getParent());
    Files.write(FILE, new TreeSet<>(names));
  }
}
