package org.layroom.device.emulated;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;
import org.layroom.device.bus.Hardware;

/**
 * Runs on the emulated Pi: switches the line given on and off, reads the other, and prints what the
 * kernel says of the lines in use each time.
 */
final class GpioProbe {
  private static final Path KERNELS_WORD = Path.of("/sys/kernel/debug/gpio");

  private GpioProbe() {}

  public static void main(String[] lines) throws BusFault, IOException {
    try (Hardware hardware = Hardware.open();
        Gpio gpio = hardware.gpio()) {
      Gpio.Output output = gpio.output(Integer.parseInt(lines[0]));
      tell("at first");
      output.set(true);
      tell("on");
      output.set(false);
      tell("off");
      output.set(true);
      Gpio.Input input = gpio.input(Integer.parseInt(lines[1]));
      tell("input " + (input.pressed() ? "pressed" : "open"));
    }
    tell("closed");
  }

  private static void tell(String when) throws IOException {
    for (String line : Files.readAllLines(KERNELS_WORD)) {
      if (line.contains("|")) {
        System.out.println("probe " + when + ": " + line.strip());
      }
    }
    System.out.println("probe " + when + ": end");
  }
}
