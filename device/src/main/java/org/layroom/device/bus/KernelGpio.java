package org.layroom.device.bus;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.tinylog.Logger;

/** What the kernel does with an output line when its program is gone without a word. */
public final class KernelGpio {
  private static final Path ROOT = Path.of("/");

  /** Pi 1 to 4, and Pi 5. */
  private static final List<String> CHIPS = List.of("pinctrl_bcm2835", "pinctrl_rp1");

  private final Path root;

  private KernelGpio(Path root) {
    this.root = root;
  }

  public static KernelGpio ofThisComputer() {
    return new KernelGpio(ROOT);
  }

  /** A kernel whose {@code sys} stands below another folder. */
  static KernelGpio below(Path root) {
    return new KernelGpio(root);
  }

  /**
   * Whether lines stay as they are. Raspberry Pi's own kernels do so unless {@code strict_gpiod} is
   * set; then, and with Debian's kernels, a line becomes an input and falls to its pull-down.
   */
  public boolean keepsOutputs() {
    return CHIPS.stream().anyMatch(this::keeps);
  }

  private boolean keeps(String chip) {
    Path parameter = root.resolve("sys/module/" + chip + "/parameters/persist_gpio_outputs");
    try {
      return Files.isReadable(parameter) && Files.readString(parameter).startsWith("Y");
    } catch (IOException e) {
      Logger.debug("{} cannot be read: {}", parameter, e.getMessage());
      return false;
    }
  }
}
