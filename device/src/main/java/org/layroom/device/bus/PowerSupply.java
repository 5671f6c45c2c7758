package org.layroom.device.bus;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What the Pi's firmware says of its supply, through the kernel's driver {@code rpi_volt} (Linux
 * kernel documentation, {@code Documentation/hwmon/sysfs-interface.rst}: {@code in0_lcrit_alarm}).
 */
public final class PowerSupply {
  private static final String DRIVER = "rpi_volt";

  private final Path root;

  private PowerSupply(Path root) {
    this.root = root;
  }

  public static PowerSupply ofThisComputer() {
    return new PowerSupply(Path.of("/"));
  }

  /** A kernel whose {@code sys} stands below another folder. */
  static PowerSupply below(Path root) {
    return new PowerSupply(root);
  }

  /** Why the supply is not good enough; empty when it is, and where nobody can tell. */
  public Optional<String> trouble() {
    Path monitors = root.resolve("sys/class/hwmon");
    if (!Files.isDirectory(monitors)) {
      return Optional.empty();
    }
    try (Stream<Path> all = Files.list(monitors)) {
      return all.anyMatch(PowerSupply::isTooLow)
          ? Optional.of(
              "the Pi's supply voltage is too low: use its own supply and a shorter cord, or"
                  + " readings and card may be spoilt")
          : Optional.empty();
    } catch (IOException | UncheckedIOException e) {
      return Optional.empty();
    }
  }

  private static boolean isTooLow(Path monitor) {
    return says(monitor.resolve("name"), DRIVER) && says(monitor.resolve("in0_lcrit_alarm"), "1");
  }

  private static boolean says(Path file, String word) {
    try {
      return Files.isReadable(file) && Files.readString(file).strip().equals(word);
    } catch (IOException e) {
      return false;
    }
  }
}
