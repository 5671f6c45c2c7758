package org.layroom.device.bus;

/** The buses of a real computer. */
public interface Hardware extends AutoCloseable {
  /** The one class that loads Pi4J, named and not imported, so that nothing else pulls it in. */
  String PI4J = "org.layroom.device.bus.pi4j.Pi4jHardware";

  /** An I2C bus by number: 1 on every Raspberry Pi with a 40-pin header. */
  I2cBus i2c(int bus) throws BusFault;

  Gpio gpio() throws BusFault;

  @Override
  void close();

  /**
   * Opens the hardware of a Raspberry Pi; loads Pi4J and its native code only now.
   *
   * @throws BusFault when this computer is not one that Pi4J can drive
   */
  static Hardware open() throws BusFault {
    try {
      return Class.forName(PI4J).asSubclass(Hardware.class).getDeclaredConstructor().newInstance();
    } catch (ReflectiveOperationException | RuntimeException | LinkageError e) {
      Throwable cause = e.getCause() == null ? e : e.getCause();
      throw new BusFault(
          "the Raspberry Pi's buses cannot be opened ("
              + cause.getMessage()
              + "); without a Raspberry Pi start with --simulate",
          e);
    }
  }
}
