package org.layroom.device.chip;

import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.pace.Pace;

/**
 * Melexis MLX90614: the temperature of a surface by its infrared light, without touching it (data
 * sheet "MLX90614 family", sections "SMBus", "RAM", "Temperature calculation").
 *
 * <p>Wiring: the 3 V type; VDD 3.3 V, GND, SDA to GPIO 2 (pin 3), SCL to GPIO 3 (pin 5); address
 * 0x5A; at most 100 kHz. It sees a cone: keep it so near that the mold fills it.
 */
public final class Mlx90614 {
  public static final int ADDRESS = 0x5A;

  /** RAM: ambient temperature, the chip's own. */
  static final int TA = 0x06;

  /** RAM: object temperature. */
  static final int TOBJ1 = 0x07;

  private static final int ERROR_FLAG = 0x8000;
  private static final double KELVIN_PER_STEP = 0.02;
  private static final double ZERO_CELSIUS = 273.15;

  /**
   * Section "Temperature calculation": -40 to 125 degC for the chip, -70.01 degC at least beyond.
   */
  private static final int LOWEST_OBJECT = 0x27AD;

  /** Data sheet, features: object temperature -70 to 380 degC; the last step is 382.19. */
  private static final double LOWEST_SURFACE_C = -70.02;

  private static final double HIGHEST_SURFACE_C = 382.2;
  private static final double LOWEST_AMBIENT_C = -40;
  private static final double HIGHEST_AMBIENT_C = 125;

  /** SMBus 1.1, packet error code: x^8 + x^2 + x + 1. */
  private static final int POLYNOMIAL = 0x07;

  private final I2cDevice device;
  private final double emissivity;
  private final Retries retries;

  /**
   * A chip whose own emissivity setting is 1, as it is sold.
   *
   * @param emissivity of the surface, 0.3 to 1; gel coat about 0.95
   */
  public Mlx90614(I2cDevice device, double emissivity, Pace pace) {
    if (!(emissivity >= 0.3 && emissivity <= 1)) {
      throw new IllegalArgumentException("emissivity " + emissivity + ": must be 0.3 to 1");
    }
    this.device = device;
    this.emissivity = emissivity;
    retries = new Retries(pace);
  }

  /**
   * One measurement.
   *
   * @param surfaceC of what the chip looks at
   * @param ownC of the chip
   */
  public record Surface(double surfaceC, double ownC) {}

  /** Whether a chip answers here with the right check byte and a believable temperature. */
  public boolean present() {
    return ownC() instanceof ChipRead.Value<Double>;
  }

  /** Reads both temperatures; the chip measures by itself, so nothing is waited for. */
  public ChipRead<Surface> read() {
    return retries.read(this::readOnce);
  }

  private ChipRead<Surface> readOnce() {
    ChipRead<Double> own = ownC();
    if (own instanceof ChipRead.Failed<Double> failed) {
      return ChipRead.failed(failed.reason());
    }
    double ownC = ((ChipRead.Value<Double>) own).value();
    ChipRead<Integer> object = word(TOBJ1);
    if (object instanceof ChipRead.Value<Integer> raw && raw.value() < LOWEST_OBJECT) {
      return ChipRead.failed("the surface thermometer reads below its range");
    }
    return object instanceof ChipRead.Value<Integer> raw
        ? surface(greyBodyC(celsius(raw.value()), ownC, emissivity), ownC)
        : ChipRead.failed(((ChipRead.Failed<Integer>) object).reason());
  }

  /** A dull surface in a hot room can seem colder than anything: then the emissivity is wrong. */
  private static ChipRead<Surface> surface(double surfaceC, double ownC) {
    return surfaceC >= LOWEST_SURFACE_C && surfaceC <= HIGHEST_SURFACE_C
        ? ChipRead.value(new Surface(surfaceC, ownC))
        : ChipRead.failed(
            "the surface reads %.0f °C: check infrared.emissivity".formatted(surfaceC));
  }

  private ChipRead<Double> ownC() {
    ChipRead<Double> own = word(TA).map(Mlx90614::celsius);
    return own instanceof ChipRead.Value<Double> value
            && !(value.value() >= LOWEST_AMBIENT_C && value.value() <= HIGHEST_AMBIENT_C)
        ? ChipRead.failed("the surface thermometer's own temperature is not plausible")
        : own;
  }

  private ChipRead<Integer> word(int command) {
    try {
      byte[] answer = device.writeRead(new byte[] {(byte) command}, 3);
      if (pec(command, answer) != (answer[2] & 0xFF)) {
        return ChipRead.failed("wrong checksum (CRC): the wire may be too long or loose");
      }
      int word = ((answer[1] & 0xFF) << 8) | (answer[0] & 0xFF);
      return (word & ERROR_FLAG) != 0
          ? ChipRead.failed("the surface thermometer reports an internal error")
          : ChipRead.value(word);
    } catch (BusFault e) {
      return ChipRead.failed(e.reason());
    }
  }

  /** "Temperature calculation": T in K = 0.02 x RAM. */
  static double celsius(int word) {
    return KELVIN_PER_STEP * word - ZERO_CELSIUS;
  }

  /**
   * What a surface of this emissivity has that seems to have {@code seenC}, when all around it has
   * {@code aroundC}: the law of Stefan and Boltzmann, with the rest of the light reflected.
   */
  static double greyBodyC(double seenC, double aroundC, double emissivity) {
    double seen = Math.pow(seenC + ZERO_CELSIUS, 4);
    double around = Math.pow(aroundC + ZERO_CELSIUS, 4);
    double own = Math.max(0, (seen - (1 - emissivity) * around) / emissivity);
    return Math.pow(own, 0.25) - ZERO_CELSIUS;
  }

  /** Over address and write bit, command, address and read bit, low byte, high byte. */
  static int pec(int command, byte[] answer) {
    int crc = 0;
    int[] bytes = {ADDRESS << 1, command, (ADDRESS << 1) | 1, answer[0] & 0xFF, answer[1] & 0xFF};
    for (int one : bytes) {
      crc ^= one;
      for (int bit = 0; bit < 8; bit++) {
        crc = (crc & 0x80) != 0 ? (crc << 1) ^ POLYNOMIAL : crc << 1;
      }
      crc &= 0xFF;
    }
    return crc;
  }
}
