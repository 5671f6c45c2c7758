package org.layroom.device.files;

import java.nio.file.Files;
import java.nio.file.Path;

/** A name in a folder that no file has yet, so that nothing kept is ever overwritten. */
public final class FreeName {
  private FreeName() {}

  /** {@code name.ext}, or {@code name-2.ext} and so on. */
  public static Path in(Path folder, String name, String ending) {
    Path file = folder.resolve(name + ending);
    for (int i = 2; Files.exists(file); i++) {
      file = folder.resolve(name + "-" + i + ending);
    }
    return file;
  }
}
