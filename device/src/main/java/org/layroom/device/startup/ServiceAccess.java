package org.layroom.device.startup;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributes;
import java.nio.file.attribute.PosixFilePermission;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/**
 * What the user of the service may open, which whoever runs {@code check} as root does not see
 * otherwise: the service's unit puts it into the groups i2c and gpio.
 */
final class ServiceAccess {
  private static final String USER = "layroom-device";
  private static final Set<String> GROUPS = Set.of(USER, "i2c", "gpio");
  private static final Path USERS = Path.of("etc/passwd");
  private static final Path MODEL = Path.of("proc/device-tree/model");

  private final Path root;

  /**
   * A computer whose files stand below a folder.
   *
   * @param root {@code /} on a real one
   */
  ServiceAccess(Path root) {
    this.root = root;
  }

  /** Why nothing can be wired to this computer; empty for a Raspberry Pi. */
  Optional<String> notAPi() {
    try {
      String model =
          Files.isReadable(root.resolve(MODEL)) ? Files.readString(root.resolve(MODEL)) : "";
      return model.contains("Raspberry Pi")
          ? Optional.empty()
          : Optional.of(
              "note   this computer is not a Raspberry Pi: sensors and lamps are wired to one;"
                  + " layroom-device check --simulate shows what a check looks like");
    } catch (IOException e) {
      return Optional.empty();
    }
  }

  /**
   * A line for each file that the service has to open and may not; none when it may open all, and
   * where no service is installed.
   *
   * @param buses numbers of the I2C buses
   * @param lines whether lamps, buzzer, button or fan have lines
   */
  List<String> faults(Iterable<Integer> buses, boolean lines) {
    List<String> faults = new ArrayList<>();
    if (!serviceIsInstalled()) {
      return faults;
    }
    buses.forEach(bus -> fault(Path.of("dev/i2c-" + bus)).ifPresent(faults::add));
    if (lines) {
      fault(Path.of("dev/gpiochip0")).ifPresent(faults::add);
    }
    return faults;
  }

  private boolean serviceIsInstalled() {
    try (Stream<String> users = Files.lines(root.resolve(USERS))) {
      return users.anyMatch(line -> line.startsWith(USER + ":"));
    } catch (IOException | UncheckedIOException e) {
      return false;
    }
  }

  private Optional<String> fault(Path file) {
    try {
      if (!Files.exists(root.resolve(file))) {
        return Optional.empty();
      }
      PosixFileAttributes found =
          Files.readAttributes(root.resolve(file), PosixFileAttributes.class);
      Set<PosixFilePermission> may = found.permissions();
      boolean byGroup =
          GROUPS.contains(found.group().getName())
              && may.contains(PosixFilePermission.GROUP_READ)
              && may.contains(PosixFilePermission.GROUP_WRITE);
      boolean byAll =
          may.contains(PosixFilePermission.OTHERS_READ)
              && may.contains(PosixFilePermission.OTHERS_WRITE);
      return byGroup || byAll
          ? Optional.empty()
          : Optional.of(
              "fault  the service's user %s may not open /%s: its group is %s, not i2c or gpio"
                  .formatted(USER, file, found.group().getName()));
    } catch (IOException | UnsupportedOperationException e) {
      return Optional.empty();
    }
  }
}
