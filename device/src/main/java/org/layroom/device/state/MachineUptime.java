package org.layroom.device.state;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;

/**
 * How long this computer has been on, and since which start: what tells the age of a file on a Pi
 * whose wall clock is not set ({@code proc(5)}).
 *
 * @param boot names the start of the computer
 * @param up since then
 */
record MachineUptime(String boot, Duration up) {
  private static final Path BOOT = Path.of("/proc/sys/kernel/random/boot_id");
  private static final Path UPTIME = Path.of("/proc/uptime");

  /** Now; empty where the kernel does not tell. */
  static Optional<MachineUptime> now() {
    try {
      String boot = Files.readString(BOOT, StandardCharsets.ISO_8859_1).strip();
      String seconds = Files.readString(UPTIME, StandardCharsets.ISO_8859_1).split(" ", 2)[0];
      long millis = Math.round(1000 * Double.parseDouble(seconds));
      return Optional.of(new MachineUptime(boot, Duration.ofMillis(millis)));
    } catch (IOException | NumberFormatException e) {
      return Optional.empty();
    }
  }

  /** How long ago another moment of the same start was; empty for one of another start. */
  Optional<Duration> since(MachineUptime then) {
    Duration age = up.minus(then.up);
    return boot.equals(then.boot) && !age.isNegative() ? Optional.of(age) : Optional.empty();
  }
}
