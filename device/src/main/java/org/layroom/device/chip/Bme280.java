package org.layroom.device.chip;

import java.time.Duration;
import java.util.Optional;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.pace.Pace;

/**
 * Bosch BME280: air temperature, relative humidity and pressure (data sheet BST-BME280-DS002;
 * registers section 5.4, forced mode section 3.3.3).
 *
 * <p>Wiring: VDD 3.3 V, GND, SDA to GPIO 2 (pin 3), SCL to GPIO 3 (pin 5); CSB high; SDO low gives
 * address 0x76, high 0x77. It warms itself a little: one forced measurement each time, then sleep.
 */
public final class Bme280 {
  public static final int ADDRESS_SDO_LOW = 0x76;
  public static final int ADDRESS_SDO_HIGH = 0x77;

  static final int ID = 0xD0;
  static final int CHIP_ID = 0x60;
  static final int CALIB00 = 0x88;
  static final int CALIB00_BYTES = 26;
  static final int CALIB26 = 0xE1;
  static final int CALIB26_BYTES = 7;
  static final int CTRL_HUM = 0xF2;
  static final int STATUS = 0xF3;
  static final int CTRL_MEAS = 0xF4;
  static final int PRESS_MSB = 0xF7;
  static final int DATA_BYTES = 8;

  /** Bit 3 of {@link #STATUS}: a conversion is running. */
  static final int MEASURING = 0x08;

  /** osrs_h = 001: humidity oversampling x 1. Takes effect at the next write to CTRL_MEAS. */
  private static final int OSRS_H_1 = 0x01;

  /** osrs_t = 001, osrs_p = 001, mode = 01: one forced measurement. */
  private static final int FORCED = 0x25;

  /** Section 9.1: at most 9.3 ms with oversampling x 1 of all three. */
  private static final Duration MEASURE_TIME = Duration.ofMillis(10);

  private static final int MOST_WAITS = 5;

  /** osrs_h in {@link #CTRL_HUM}, osrs_t and osrs_p in {@link #CTRL_MEAS}; 0: channel skipped. */
  private static final int OSRS_H = 0x07;

  private static final int OSRS_T = 0xE0;
  private static final int OSRS_P = 0x1C;

  /**
   * What the data registers hold when a channel was skipped or never measured (sections 5.4.7 to
   * 5.4.9). A measured channel may show it too, so it alone proves nothing.
   */
  private static final int SKIPPED_20_BIT = 0x80000;

  private static final int SKIPPED_16_BIT = 0x8000;

  private final I2cDevice device;
  private final Pace pace;
  private final Retries retries;
  private Optional<Bme280Calibration> calibration = Optional.empty();

  public Bme280(I2cDevice device, Pace pace) {
    this.device = device;
    this.pace = pace;
    retries = new Retries(pace);
  }

  /**
   * One measurement.
   *
   * @param temperatureC -40 to 85 degC in the chip's range
   * @param humidityPct 0 to 100 %
   * @param pressurePa 30 000 to 110 000 Pa in the chip's range
   */
  public record Air(double temperatureC, double humidityPct, double pressurePa) {
    /** Data sheet, tables 1 to 4: -40 to 85 degC, 0 to 100 %, 300 to 1100 hPa. */
    boolean measurable() {
      return temperatureC >= -40
          && temperatureC <= 85
          && humidityPct >= 0
          && humidityPct <= 100
          && pressurePa >= 30_000
          && pressurePa <= 110_000;
    }
  }

  /** Whether a BME280 answers here (a BMP280, which has no humidity, does not count). */
  public boolean present() {
    try {
      return register(ID) == CHIP_ID;
    } catch (BusFault e) {
      return false;
    }
  }

  /** Measures; waits 10 ms, at most 50, on the caller's thread. */
  public ChipRead<Air> read() {
    ChipRead<Air> read = retries.read(this::readOnce);
    if (read instanceof ChipRead.Failed<Air>) {
      calibration = Optional.empty();
    }
    return read;
  }

  private ChipRead<Air> readOnce() {
    try {
      Bme280Calibration known = calibrated();
      device.write((byte) CTRL_HUM, (byte) OSRS_H_1);
      device.write((byte) CTRL_MEAS, (byte) FORCED);
      if (!waitForMeasurement()) {
        return forget("the measurement did not finish in time");
      }
      return convert(known, device.writeRead(new byte[] {(byte) PRESS_MSB}, DATA_BYTES));
    } catch (BusFault e) {
      return ChipRead.failed(e.reason());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return ChipRead.failed("stopped while measuring");
    }
  }

  private ChipRead<Air> convert(Bme280Calibration known, byte[] data) throws BusFault {
    int rawPressure = twentyBits(data, 0);
    int rawTemperature = twentyBits(data, 3);
    int rawHumidity = (data[6] & 0xFF) << 8 | (data[7] & 0xFF);
    if (notMeasured(rawTemperature, rawPressure, rawHumidity)) {
      return forget("the chip did not measure: it may have lost power");
    }
    double fine = known.fineTemperature(rawTemperature);
    Air air =
        new Air(
            Bme280Calibration.temperatureC(fine),
            known.humidityPct(rawHumidity, fine),
            known.pressurePa(rawPressure, fine));
    return air.measurable()
        ? ChipRead.value(air)
        : forget("the chip's calibration data are not valid");
  }

  /**
   * Whether a channel was not measured. Where a value looks skipped, the chip's own settings
   * decide: a chip that lost power has them at 0. All three at once are the power-on values.
   */
  private boolean notMeasured(int temperature, int pressure, int humidity) throws BusFault {
    boolean noTemperature = temperature == SKIPPED_20_BIT;
    boolean noPressure = pressure == SKIPPED_20_BIT;
    boolean noHumidity = humidity == SKIPPED_16_BIT;
    if (noTemperature && noPressure && noHumidity) {
      return true;
    }
    if (!noTemperature && !noPressure && !noHumidity) {
      return false;
    }
    int ctrlMeas = register(CTRL_MEAS);
    return (noTemperature && (ctrlMeas & OSRS_T) == 0)
        || (noPressure && (ctrlMeas & OSRS_P) == 0)
        || (noHumidity && (register(CTRL_HUM) & OSRS_H) == 0);
  }

  /** The chip may have been changed or have lost power: its calibration is read again next time. */
  private ChipRead<Air> forget(String reason) {
    calibration = Optional.empty();
    return ChipRead.failed(reason);
  }

  private Bme280Calibration calibrated() throws BusFault {
    if (calibration.isEmpty()) {
      int id = register(ID);
      if (id != CHIP_ID) {
        throw new BusFault("the chip says id 0x%02X, a BME280 says 0x60".formatted(id));
      }
      byte[] low = device.writeRead(new byte[] {(byte) CALIB00}, CALIB00_BYTES);
      byte[] high = device.writeRead(new byte[] {(byte) CALIB26}, CALIB26_BYTES);
      calibration = Optional.of(Bme280Calibration.of(low, high));
    }
    return calibration.get();
  }

  private boolean waitForMeasurement() throws BusFault, InterruptedException {
    for (int wait = 0; wait < MOST_WAITS; wait++) {
      pace.pause(MEASURE_TIME);
      if ((register(STATUS) & MEASURING) == 0) {
        return true;
      }
    }
    return false;
  }

  private int register(int address) throws BusFault {
    return device.writeRead(new byte[] {(byte) address}, 1)[0] & 0xFF;
  }

  private static int twentyBits(byte[] data, int offset) {
    return (data[offset] & 0xFF) << 12
        | (data[offset + 1] & 0xFF) << 4
        | (data[offset + 2] & 0xFF) >> 4;
  }
}
