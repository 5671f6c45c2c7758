package org.layroom.device.simulated;

import java.time.Duration;
import java.util.function.DoubleSupplier;
import java.util.function.Supplier;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;

/**
 * A make-believe ADS1115 with a voltage at input 0: single-shot only, and no conversion is over
 * before its time.
 */
public final class SimulatedAds1115 implements I2cDevice {
  private static final Duration CONVERSION = Duration.ofNanos(7_812_500);
  private static final int POWER_ON = 0x8583;
  private static final int BUSY_MASK = 0x7FFF;

  private final DoubleSupplier volts;
  private final Supplier<Duration> uptime;
  private int pointer;
  private int config = POWER_ON;
  private int conversion;
  private Duration doneAt = Duration.ZERO;

  public SimulatedAds1115(DoubleSupplier volts, Supplier<Duration> uptime) {
    this.volts = volts;
    this.uptime = uptime;
  }

  @Override
  public synchronized void write(byte... bytes) throws BusFault {
    if (bytes.length == 0) {
      return;
    }
    pointer = bytes[0] & 0x3;
    if (bytes.length == 3 && pointer == 1) {
      config = ((bytes[1] & 0xFF) << 8) | (bytes[2] & 0xFF);
      if ((config & 0x8000) != 0) {
        conversion = steps();
        doneAt = uptime.get().plus(CONVERSION);
      }
    }
  }

  private int steps() {
    boolean input0 = ((config >> 12) & 0x7) == 4;
    double fullScale = ((config >> 9) & 0x7) == 1 ? 4.096 : 2.048;
    double steps = input0 ? volts.getAsDouble() / fullScale * 32_768 : 0;
    return (int) Math.round(Math.max(-32_768, Math.min(32_767, steps))) & 0xFFFF;
  }

  @Override
  public synchronized byte[] read(int count) throws BusFault {
    boolean done = uptime.get().compareTo(doneAt) >= 0;
    int word =
        switch (pointer) {
          case 0 -> conversion;
          case 1 -> done ? config | 0x8000 : config & BUSY_MASK;
          default -> 0;
        };
    byte[] bytes = new byte[count];
    for (int i = 0; i < count; i++) {
      bytes[i] = (byte) (i % 2 == 0 ? word >> 8 : word);
    }
    return bytes;
  }

  @Override
  public synchronized byte[] writeRead(byte[] bytes, int count) throws BusFault {
    write(bytes);
    return read(count);
  }
}
