package org.layroom.device.simulated;

import java.util.function.DoubleSupplier;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;

/** A make-believe MLX90614 that looks at a black surface, with check bytes as on SMBus. */
public final class SimulatedMlx90614 implements I2cDevice {
  private static final double STEPS_PER_KELVIN = 50;
  private static final double ZERO_CELSIUS = 273.15;

  private final DoubleSupplier surfaceC;
  private final DoubleSupplier ownC;

  public SimulatedMlx90614(DoubleSupplier surfaceC, DoubleSupplier ownC) {
    this.surfaceC = surfaceC;
    this.ownC = ownC;
  }

  @Override
  public void write(byte... bytes) throws BusFault {
    // a lone command is taken and forgotten
  }

  /** Without a command of the same transfer it has nothing to say. */
  @Override
  public byte[] read(int count) throws BusFault {
    throw new BusFault("not acknowledged: nothing was asked");
  }

  @Override
  public byte[] writeRead(byte[] bytes, int count) throws BusFault {
    int command = bytes.length == 1 ? bytes[0] & 0xFF : -1;
    if (count != 3 || (command != 6 && command != 7)) {
      throw new BusFault("not acknowledged: no such word");
    }
    double celsius = command == 7 ? surfaceC.getAsDouble() : ownC.getAsDouble();
    int word = (int) Math.round((celsius + ZERO_CELSIUS) * STEPS_PER_KELVIN);
    byte low = (byte) word;
    byte high = (byte) (word >> 8);
    return new byte[] {low, high, check((byte) 0xB4, (byte) command, (byte) 0xB5, low, high)};
  }

  /** Long division by x^8 + x^2 + x + 1, bit by bit. */
  private static byte check(byte... bytes) {
    int remainder = 0;
    for (byte one : bytes) {
      for (int bit = 7; bit >= 0; bit--) {
        remainder = (remainder << 1) ^ (((one >> bit) & 1) << 8);
        if ((remainder & 0x100) != 0) {
          remainder ^= 0x107;
        }
      }
    }
    return (byte) remainder;
  }
}
