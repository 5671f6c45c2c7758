package org.layroom.device.chip;

import java.time.Duration;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.pace.Pace;

/**
 * Texas Instruments ADS1115: the voltage of an analog instrument such as a PID module, 16 bits at
 * +-4.096 V (data sheet SBAS444, "Conversion register", "Config register", "Data format").
 *
 * <p>Wiring: VDD 3.3 V, GND, SDA to GPIO 2 (pin 3), SCL to GPIO 3 (pin 5); address 0x48 with ADDR
 * on ground, 0x49 on VDD, 0x4A on SDA, 0x4B on SCL. No input may go above VDD: a module that gives
 * up to 5 V needs a divider.
 */
public final class Ads1115 {
  public static final int LOWEST_ADDRESS = 0x48;
  public static final int HIGHEST_ADDRESS = 0x4B;

  /** Conversion register. */
  static final int CONVERSION = 0x00;

  /** Config register. */
  static final int CONFIG = 0x01;

  /** The config register after power-on. */
  static final int CONFIG_RESET = 0x8583;

  /** OS: written 1 starts a conversion; read 1 says that none is under way. */
  static final int OS = 0x8000;

  /** MUX 100: AIN0 against ground; 101, 110, 111 the others. */
  private static final int MUX_AIN0 = 0x4000;

  private static final int MUX_SHIFT = 12;

  /** PGA 001: full scale +-4.096 V, 125 uV a step. */
  private static final int PGA_4_096 = 0x0200;

  /** MODE 1: single-shot. */
  private static final int SINGLE_SHOT = 0x0100;

  /** DR 100: 128 samples a second. */
  private static final int DR_128 = 0x0080;

  /** COMP_QUE 11: no comparator. */
  private static final int NO_COMPARATOR = 0x0003;

  private static final double VOLTS_PER_STEP = 125e-6;
  private static final int TOP = 0x7FFF;
  private static final int BOTTOM = -0x8000;

  /** 1/128 s and the 10 % by which the data rate may be off. */
  private static final Duration CONVERSION_TIME = Duration.ofNanos(8_700_000);

  private final I2cDevice device;
  private final Pace pace;
  private final int config;
  private final Retries retries;

  /**
   * One input of a chip.
   *
   * @param input 0 to 3, against ground
   */
  public Ads1115(I2cDevice device, Pace pace, int input) {
    if (input < 0 || input > 3) {
      throw new IllegalArgumentException("input " + input + " of an ADS1115: must be 0 to 3");
    }
    this.device = device;
    this.pace = pace;
    retries = new Retries(pace);
    config = (MUX_AIN0 + (input << MUX_SHIFT)) | PGA_4_096 | SINGLE_SHOT | DR_128 | NO_COMPARATOR;
  }

  /**
   * Whether the config register holds what it holds after power-on or after this driver. Only
   * reads, since another kind of chip may live at these addresses.
   */
  public boolean present() {
    try {
      int now = word(device.writeRead(new byte[] {CONFIG}, 2)) | OS;
      int muxes = 0x3 << MUX_SHIFT;
      return now == CONFIG_RESET || (now & ~muxes) == ((config | OS) & ~muxes);
    } catch (BusFault e) {
      return false;
    }
  }

  /**
   * Measures, in volts; waits 9 ms on the caller's thread. The chip has no check sums, so its
   * config register is read back: a chip that lost its supply meanwhile gives a reason and no
   * number.
   */
  public ChipRead<Double> read() {
    return retries.read(this::readOnce);
  }

  private ChipRead<Double> readOnce() {
    try {
      int start = config | OS;
      device.write((byte) CONFIG, (byte) (start >> 8), (byte) start);
      pace.pause(CONVERSION_TIME);
      int after = word(device.writeRead(new byte[] {CONFIG}, 2));
      if ((after & OS) == 0) {
        return ChipRead.failed("the converter did not finish in time");
      }
      if (after != start) {
        return ChipRead.failed("the converter lost its settings: check its power and wires");
      }
      return volts((short) word(device.writeRead(new byte[] {CONVERSION}, 2)));
    } catch (BusFault e) {
      return ChipRead.failed(e.reason());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return ChipRead.failed("stopped while measuring");
    }
  }

  /** "Data format": two's complement; either end means at or beyond full scale. */
  private static ChipRead<Double> volts(short steps) {
    return steps == TOP || steps == BOTTOM
        ? ChipRead.failed("the input is at or beyond 4.096 V: it may be wired wrong")
        : ChipRead.value(steps * VOLTS_PER_STEP);
  }

  private static int word(byte[] bytes) {
    return ((bytes[0] & 0xFF) << 8) | (bytes[1] & 0xFF);
  }
}
