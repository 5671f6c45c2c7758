package org.layroom.device.bus;

/** One I2C bus with its chips. */
public interface I2cBus extends AutoCloseable {
  /**
   * The chip at an address. Nothing is sent yet: a missing chip shows at the first transfer.
   *
   * @param address 7 bits, 0x08 to 0x77
   * @throws BusFault when the bus cannot be opened
   */
  I2cDevice device(int address) throws BusFault;

  @Override
  void close();
}
