package org.layroom.device.emulated;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;

/** The Debian package of the device, as the build made it. */
final class ShippedPackage {
  private ShippedPackage() {}

  /** Unpacks into {@code app/package} what {@code dpkg} would put on a real Pi. */
  static void unpack(Path app) throws IOException, InterruptedException {
    Path deb;
    try (Stream<Path> files = Files.list(Path.of("target"))) {
      deb = files.filter(f -> f.toString().endsWith("_all.deb")).findFirst().orElseThrow();
    }
    Process unpack =
        new ProcessBuilder("dpkg-deb", "-x", deb.toString(), app.resolve("package").toString())
            .inheritIO()
            .start();
    assertEquals(0, unpack.waitFor(), deb.toString());
  }
}
