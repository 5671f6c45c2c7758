package org.layroom.device.chip;

import java.time.Duration;
import java.util.Optional;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.pace.Pace;

/**
 * A chip that answers at the address of one that Layroom drives, and is another: it is named, so
 * that nobody looks for a loose wire. How each is known is from its maker's data sheet, from
 * memory.
 */
public enum Lookalike {
  /** Passes the same self test, and does not know the SGP40's way to measure. */
  SGP41("an SGP41, which Layroom does not drive: use an SGP40"),

  /** Answers "read out of status register", 0xF32D, with a right check byte. */
  SHT3X("an SHT3x, which Layroom does not drive: use an SHT4x"),

  /** Chip id 0x58, or 0x56 and 0x57 of samples. */
  BMP280("a BMP280, which has no humidity: use a BME280 or an SHT4x"),

  /** Chip id 0x61. */
  BME680("a BME680, which Layroom does not drive: use a BME280 or an SHT4x");

  private static final int SHT3X_STATUS = 0xF32D;
  private static final int LOWEST_BMP280_ID = 0x56;
  private static final int HIGHEST_BMP280_ID = 0x58;
  private static final int BME680_ID = 0x61;
  private static final Duration COMMAND = Duration.ofMillis(1);

  private final String words;

  Lookalike(String words) {
    this.words = words;
  }

  /** What it is and what to use instead. */
  public String words() {
    return words;
  }

  /** Which of them answers at an address where none of Layroom's chips does; may wait 0.4 s. */
  public static Optional<Lookalike> at(int address, I2cDevice device, Pace pace) {
    return switch (address) {
      case Sgp40.ADDRESS ->
          new Sgp40(device, pace).passesSelfTest() ? Optional.of(SGP41) : Optional.empty();
      case Sht4x.ADDRESS_A, Sht4x.ADDRESS_B ->
          isSht3x(device, pace) ? Optional.of(SHT3X) : Optional.empty();
      case Bme280.ADDRESS_SDO_LOW, Bme280.ADDRESS_SDO_HIGH -> byId(device);
      default -> Optional.empty();
    };
  }

  private static boolean isSht3x(I2cDevice device, Pace pace) {
    try {
      device.write((byte) (SHT3X_STATUS >> 8), (byte) SHT3X_STATUS);
      pace.pause(COMMAND);
      return SensirionWord.intact(device.read(SensirionWord.BYTES), 0);
    } catch (BusFault e) {
      return false;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return false;
    }
  }

  private static Optional<Lookalike> byId(I2cDevice device) {
    try {
      int id = device.writeRead(new byte[] {(byte) Bme280.ID}, 1)[0] & 0xFF;
      if (id == BME680_ID) {
        return Optional.of(BME680);
      }
      return id >= LOWEST_BMP280_ID && id <= HIGHEST_BMP280_ID
          ? Optional.of(BMP280)
          : Optional.empty();
    } catch (BusFault e) {
      return Optional.empty();
    }
  }
}
