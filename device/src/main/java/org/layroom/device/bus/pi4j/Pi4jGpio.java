package org.layroom.device.bus.pi4j;

import com.pi4j.context.Context;
import com.pi4j.exception.Pi4JException;
import com.pi4j.io.gpio.digital.DigitalInput;
import com.pi4j.io.gpio.digital.DigitalInputProvider;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalOutputProvider;
import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.io.gpio.digital.PullResistance;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;

/** GPIO lines through the kernel's character device. */
final class Pi4jGpio implements Gpio {
  private static final String OUTPUT_PROVIDER = "gpiod-digital-output";
  private static final String INPUT_PROVIDER = "gpiod-digital-input";

  private final Context context;

  Pi4jGpio(Context context) {
    this.context = context;
  }

  @Override
  public Output output(int line) throws BusFault {
    try {
      DigitalOutputProvider provider = context.provider(OUTPUT_PROVIDER);
      DigitalOutput output =
          provider.create(
              DigitalOutput.newConfigBuilder(context)
                  .id("gpio-out-" + line)
                  .address(line)
                  .initial(DigitalState.LOW)
                  .shutdown(DigitalState.LOW)
                  .build());
      return on -> switchLine(output, line, on);
    } catch (Pi4JException | IllegalStateException e) {
      throw fault(line, e);
    }
  }

  private static void switchLine(DigitalOutput output, int line, boolean on) throws BusFault {
    try {
      output.state(on ? DigitalState.HIGH : DigitalState.LOW);
    } catch (RuntimeException e) {
      throw fault(line, e);
    }
  }

  @Override
  public Input input(int line) throws BusFault {
    try {
      DigitalInputProvider provider = context.provider(INPUT_PROVIDER);
      DigitalInput input =
          provider.create(
              DigitalInput.newConfigBuilder(context)
                  .id("gpio-in-" + line)
                  .address(line)
                  .pull(PullResistance.PULL_UP)
                  .build());
      return () -> input.state() == DigitalState.LOW;
    } catch (Pi4JException | IllegalStateException e) {
      throw fault(line, e);
    }
  }

  /** The lines are given back when the context is shut down. */
  @Override
  public void close() {}

  private static BusFault fault(int line, Exception e) {
    return new BusFault("GPIO line " + line + " cannot be used: " + e.getMessage(), e);
  }
}
