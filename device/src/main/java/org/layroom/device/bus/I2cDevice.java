package org.layroom.device.bus;

/** One chip on an I2C bus. */
public interface I2cDevice {
  /** Sends bytes. */
  void write(byte... bytes) throws BusFault;

  /** Reads exactly {@code count} bytes. */
  byte[] read(int count) throws BusFault;

  /** Sends bytes, then reads exactly {@code count} bytes, with nothing of ours in between. */
  byte[] writeRead(byte[] bytes, int count) throws BusFault;
}
