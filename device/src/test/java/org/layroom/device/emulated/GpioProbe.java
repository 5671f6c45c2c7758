package org.layroom.device.emulated;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;
import org.layroom.device.bus.Hardware;
import org.layroom.device.pace.RealPace;

/**
 * Runs on the emulated Pi: switches the line given on and off, reads the other, and prints what the
 * kernel says of the lines in use each time.
 */
final class GpioProbe {
  private static final Path KERNELS_WORD = Path.of("/sys/kernel/debug/gpio");

  private GpioProbe() {}

  /** {@code OUTPUT INPUT} tries two lines; {@code hold LINE FILE} has one until a file is there. */
  public static void main(String[] lines) throws BusFault, IOException, InterruptedException {
    if (lines[0].equals("hold")) {
      hold(Integer.parseInt(lines[1]), Path.of(lines[2]));
      return;
    }
    try (Hardware hardware = Hardware.open();
        Gpio gpio = hardware.gpio()) {
      Gpio.Output output = gpio.output(Gpio.Wire.of(Integer.parseInt(lines[0])), false);
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

  private static void hold(int line, Path until)
      throws BusFault, IOException, InterruptedException {
    try (Hardware hardware = Hardware.open();
        Gpio gpio = hardware.gpio();
        RealPace pace = new RealPace()) {
      gpio.output(Gpio.Wire.of(line), false);
      System.out.println("probe holds " + line);
      while (!Files.exists(until)) {
        pace.pause(Duration.ofMillis(100));
      }
    }
    System.out.println("probe gone");
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
