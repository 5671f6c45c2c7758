package org.layroom.device.chip;

import java.time.Duration;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.pace.Pace;

/**
 * Sensirion SHT40/SHT41/SHT45: air temperature and relative humidity (data sheet "SHT4x", sections
 * 4.5 commands, 4.6 conversion).
 *
 * <p>Wiring: VDD 3.3 V, GND, SDA to GPIO 2 (pin 3), SCL to GPIO 3 (pin 5); address 0x44 (types A),
 * 0x45 (types B) or 0x46 (types C), fixed by the part. Hang it at breathing height, away from the
 * heater and the Pi.
 */
public final class Sht4x {
  public static final int ADDRESS_A = 0x44;
  public static final int ADDRESS_B = 0x45;
  public static final int ADDRESS_C = 0x46;

  /** "Measure T and RH with high precision (high repeatability)". */
  static final int MEASURE_HIGH_PRECISION = 0xFD;

  /** "Read serial number". */
  static final int READ_SERIAL = 0x89;

  /** At most 8.3 ms for a high-precision measurement (section 2.1, timing). */
  private static final Duration CONVERSION = Duration.ofMillis(9);

  private static final Duration COMMAND = Duration.ofMillis(1);

  private final I2cDevice device;
  private final Pace pace;
  private final Retries retries;

  public Sht4x(I2cDevice device, Pace pace) {
    this.device = device;
    this.pace = pace;
    retries = new Retries(pace);
  }

  /**
   * One measurement.
   *
   * @param temperatureC -45 to 130 degC
   * @param humidityPct relative humidity, cropped to 0 to 100 % as section 4.6 says
   */
  public record Air(double temperatureC, double humidityPct) {}

  /** Whether a chip answers here with a serial number whose check bytes are right. */
  public boolean present() {
    return exchange(READ_SERIAL, COMMAND) instanceof ChipRead.Value<byte[]>;
  }

  /** Measures; waits 9 ms on the caller's thread, longer where a bad answer is asked for again. */
  public ChipRead<Air> read() {
    return retries
        .read(() -> exchange(MEASURE_HIGH_PRECISION, CONVERSION))
        .map(
            bytes ->
                new Air(
                    temperatureC(SensirionWord.word(bytes, 0)),
                    humidityPct(SensirionWord.word(bytes, SensirionWord.BYTES))));
  }

  /** Section 4.6: T = -45 + 175 S_T / (2^16 - 1). */
  static double temperatureC(int word) {
    return -45 + 175.0 * word / 65535;
  }

  /** Section 4.6: RH = -6 + 125 S_RH / (2^16 - 1), cropped to 0 to 100 %. */
  static double humidityPct(int word) {
    return Math.min(100, Math.max(0, -6 + 125.0 * word / 65535));
  }

  private ChipRead<byte[]> exchange(int command, Duration wait) {
    try {
      device.write((byte) command);
      pace.pause(wait);
      byte[] bytes = device.read(2 * SensirionWord.BYTES);
      if (!SensirionWord.intact(bytes, 0) || !SensirionWord.intact(bytes, SensirionWord.BYTES)) {
        return ChipRead.failed("wrong checksum (CRC): the wire may be too long or loose");
      }
      return ChipRead.value(bytes);
    } catch (BusFault e) {
      return ChipRead.failed(e.reason());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return ChipRead.failed("stopped while measuring");
    }
  }
}
