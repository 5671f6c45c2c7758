package org.layroom.device.simulated;

import java.util.function.Supplier;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;

/**
 * A make-believe BME280: a register file whose data registers are filled by a forced measurement.
 * As on the chip, a new humidity oversampling counts only after the next write to ctrl_meas.
 */
public final class SimulatedBme280 implements I2cDevice {
  private static final int CTRL_HUM = 0xF2;
  private static final int CTRL_MEAS = 0xF4;
  private static final int DATA = 0xF7;
  private static final int SKIPPED = 0x80000;

  private final Supplier<RoomTruth> truth;
  private final byte[] registers = new byte[256];
  private int pointer;

  public SimulatedBme280(Supplier<RoomTruth> truth) {
    this.truth = truth;
    registers[0xD0] = 0x60;
    int at = 0x88;
    for (int word : Bme280Sheet.DIG_T) {
      at = putWord(at, word);
    }
    for (int word : Bme280Sheet.DIG_P) {
      at = putWord(at, word);
    }
    int[] h = Bme280Sheet.DIG_H;
    registers[0xA1] = (byte) h[0];
    putWord(0xE1, h[1]);
    registers[0xE3] = (byte) h[2];
    registers[0xE4] = (byte) (h[3] >> 4);
    registers[0xE5] = (byte) ((h[3] & 0x0F) | (h[4] & 0x0F) << 4);
    registers[0xE6] = (byte) (h[4] >> 4);
    registers[0xE7] = (byte) h[5];
    putData(SKIPPED, SKIPPED, SKIPPED >> 4);
  }

  private int putWord(int at, int word) {
    registers[at] = (byte) word;
    registers[at + 1] = (byte) (word >> 8);
    return at + 2;
  }

  @Override
  public synchronized void write(byte... bytes) throws BusFault {
    if (bytes.length == 0) {
      return;
    }
    pointer = bytes[0] & 0xFF;
    for (int i = 1; i < bytes.length; i += 2) {
      if (i > 1) {
        pointer = bytes[i - 1] & 0xFF;
      }
      registers[pointer] = bytes[i];
      if (pointer == CTRL_MEAS && (bytes[i] & 3) != 0) {
        measure(bytes[i]);
      }
    }
  }

  private void measure(int control) {
    RoomTruth now = truth.get();
    int rawT = Bme280Sheet.rawTemperature(now.airC());
    int fine = Bme280Sheet.fine(rawT);
    putData(
        (control >> 2 & 7) == 0 ? SKIPPED : Bme280Sheet.rawPressure(now.pressurePa(), fine),
        (control >> 5 & 7) == 0 ? SKIPPED : rawT,
        (registers[CTRL_HUM] & 7) == 0
            ? SKIPPED >> 4
            : Bme280Sheet.rawHumidity(now.humidityPct(), fine));
    registers[CTRL_MEAS] &= (byte) 0xFC;
  }

  private void putData(int rawP, int rawT, int rawH) {
    registers[DATA] = (byte) (rawP >> 12);
    registers[DATA + 1] = (byte) (rawP >> 4);
    registers[DATA + 2] = (byte) (rawP << 4);
    registers[DATA + 3] = (byte) (rawT >> 12);
    registers[DATA + 4] = (byte) (rawT >> 4);
    registers[DATA + 5] = (byte) (rawT << 4);
    registers[DATA + 6] = (byte) (rawH >> 8);
    registers[DATA + 7] = (byte) rawH;
  }

  @Override
  public synchronized byte[] read(int count) throws BusFault {
    byte[] bytes = new byte[count];
    for (int i = 0; i < count; i++) {
      bytes[i] = registers[pointer];
      pointer = (pointer + 1) & 0xFF;
    }
    return bytes;
  }

  @Override
  public synchronized byte[] writeRead(byte[] bytes, int count) throws BusFault {
    write(bytes);
    return read(count);
  }
}
