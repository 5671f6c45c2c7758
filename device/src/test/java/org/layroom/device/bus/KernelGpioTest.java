package org.layroom.device.bus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Whether a Pi's lines stay on when their program is gone. Source: Raspberry Pi's documentation on
 * GPIO: its kernels keep the state of an output, {@code dtparam=strict_gpiod} or the drivers'
 * parameter {@code persist_gpio_outputs=n} give it back.
 */
class KernelGpioTest {
  @TempDir Path root;

  @ParameterizedTest
  @CsvSource({
    "pinctrl_bcm2835, Y, true",
    "pinctrl_bcm2835, N, false",
    "pinctrl_rp1, Y, true",
    "another, Y, false"
  })
  void theDriverSaysIt(String chip, String said, boolean keeps) throws IOException {
    Path folder = Files.createDirectories(root.resolve("sys/module/" + chip + "/parameters"));
    Files.writeString(folder.resolve("persist_gpio_outputs"), said + "\n");
    assertEquals(keeps, KernelGpio.below(root).keepsOutputs());
  }

  @Test
  void aKernelWithoutTheChoiceGivesLinesBack() {
    assertFalse(KernelGpio.below(root).keepsOutputs());
  }
}
