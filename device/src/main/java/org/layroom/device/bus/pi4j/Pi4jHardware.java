package org.layroom.device.bus.pi4j;

import com.pi4j.Pi4J;
import com.pi4j.context.Context;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;
import org.layroom.device.bus.Hardware;
import org.layroom.device.bus.I2cBus;

/**
 * A Raspberry Pi's buses through Pi4J 2.8: I2C through {@code /dev/i2c-*} (provider {@code
 * linuxfs-i2c}), GPIO through the kernel's character device (provider {@code gpiod}). Building the
 * context takes about a second on a Pi.
 */
public final class Pi4jHardware implements Hardware {
  private final Context context;

  /** Builds the Pi4J context; called by name from {@link Hardware#open()}. */
  public Pi4jHardware() {
    context = Pi4J.newContextBuilder().autoDetectPlatforms().autoDetectProviders().build();
  }

  @Override
  public I2cBus i2c(int bus) throws BusFault {
    return new Pi4jI2cBus(context, bus);
  }

  @Override
  public Gpio gpio() throws BusFault {
    return new Pi4jGpio(context);
  }

  @Override
  public void close() {
    context.shutdown();
  }
}
