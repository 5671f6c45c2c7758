package org.layroom.dashboard.access;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.regex.Pattern;
import org.layroom.dashboard.access.device.OwnerOnlyFiles;

/** The cookie name of one dashboard, made at its first start: {@code layroom-} and eight digits. */
final class CookieName {
  private static final Pattern NAME = Pattern.compile("layroom-[0-9a-f]{8}");
  private static final SecureRandom RANDOM = new SecureRandom();

  private CookieName() {}

  static String in(Path folder) {
    Path file = folder.resolve("cookie-name");
    try {
      String kept = Files.exists(file) ? Files.readString(file).strip() : "";
      if (NAME.matcher(kept).matches()) {
        return kept;
      }
      String made = "layroom-%08x".formatted(RANDOM.nextInt());
      OwnerOnlyFiles.write(file, made + "\n");
      return made;
    } catch (IOException e) {
      throw new UncheckedIOException("The cookie's name cannot be kept in " + file, e);
    }
  }
}
