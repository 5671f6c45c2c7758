package org.layroom.device.chip;

import java.time.Duration;
import java.util.Optional;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.pace.Pace;

/**
 * Sensirion SGP40: the raw signal of a metal-oxide gas sensor, proportional to the logarithm of its
 * resistance; lower means more vapor (data sheet "SGP40", section 3, commands). It answers to
 * styrene, acetone, exhaust and breath alike and says nothing in ppm.
 *
 * <p>Wiring: VDD 3.3 V, GND, SDA to GPIO 2 (pin 3), SCL to GPIO 3 (pin 5); address 0x59. Keep
 * silicone sealant and mold release spray away from it.
 */
public final class Sgp40 {
  public static final int ADDRESS = 0x59;

  /** "sgp40_measure_raw_signal". */
  static final int MEASURE_RAW_SIGNAL = 0x260F;

  /** "sgp4x_execute_self_test". */
  static final int EXECUTE_SELF_TEST = 0x280E;

  /** "sgp4x_turn_heater_off". */
  static final int TURN_HEATER_OFF = 0x3615;

  /** High byte of the self test's answer when all tests passed; the low byte is to be ignored. */
  private static final int ALL_TESTS_PASSED = 0xD4;

  /** Default parameters: no compensation, 50 % and 25 degC (table "measure raw signal"). */
  static final int DEFAULT_HUMIDITY = 0x8000;

  static final int DEFAULT_TEMPERATURE = 0x6666;

  private static final Duration MEASURE_TIME = Duration.ofMillis(30);
  private static final Duration SELF_TEST_TIME = Duration.ofMillis(320);

  private final I2cDevice device;
  private final Pace pace;
  private final Retries retries;
  private Optional<Duration> testingSince = Optional.empty();

  public Sgp40(I2cDevice device, Pace pace) {
    this.device = device;
    this.pace = pace;
    retries = new Retries(pace);
  }

  /**
   * Lets the chip test itself, so that {@link #passesSelfTest} waits less; no measuring meanwhile.
   * Waits for nothing.
   */
  public void beginSelfTest() {
    try {
      device.write((byte) (EXECUTE_SELF_TEST >> 8), (byte) EXECUTE_SELF_TEST);
      testingSince = Optional.of(pace.uptime());
    } catch (BusFault e) {
      testingSince = Optional.empty();
    }
  }

  /**
   * Whether this is an SGP40 that works: its self test passes, as an SGP41's does, and it knows how
   * to measure; waits up to 0.4 s on the caller's thread.
   */
  public boolean present() {
    return passesSelfTest() && readUncorrected() instanceof ChipRead.Value<Integer>;
  }

  /** Whether the chip's self test passes; waits up to 320 ms on the caller's thread. */
  public boolean passesSelfTest() {
    if (testingSince.isEmpty()) {
      beginSelfTest();
    }
    Optional<Duration> since = testingSince;
    testingSince = Optional.empty();
    return since.isPresent()
        && answerAfter(SELF_TEST_TIME.minus(pace.uptime().minus(since.get())))
            instanceof ChipRead.Value<Integer> answer
        && answer.value() >> 8 == ALL_TESTS_PASSED;
  }

  /**
   * Measures, corrected by the chip for the air's temperature and humidity; waits 30 ms on the
   * caller's thread, longer where a bad answer is asked for again.
   *
   * @param airC -45 to 130 degC; beyond, the nearest of these is sent
   * @param humidityPct 0 to 100 %
   * @return the raw signal, 0 to 65535
   */
  public ChipRead<Integer> read(double airC, double humidityPct) {
    return measure(humidityWord(humidityPct), temperatureWord(airC));
  }

  /** Measures without correction, for when no air sensor answers. */
  public ChipRead<Integer> readUncorrected() {
    return measure(DEFAULT_HUMIDITY, DEFAULT_TEMPERATURE);
  }

  /** Switches the chip's heater off: for shutting down. */
  public void heaterOff() throws BusFault {
    device.write((byte) (TURN_HEATER_OFF >> 8), (byte) TURN_HEATER_OFF);
  }

  /** RH in % x 65535 / 100. */
  static int humidityWord(double humidityPct) {
    return clampedWord(humidityPct * 65535 / 100);
  }

  /** (T in degC + 45) x 65535 / 175. */
  static int temperatureWord(double airC) {
    return clampedWord((airC + 45) * 65535 / 175);
  }

  private static int clampedWord(double value) {
    return (int) Math.round(Math.max(0, Math.min(65535, value)));
  }

  private ChipRead<Integer> measure(int humidityWord, int temperatureWord) {
    byte[] command = new byte[2 + 2 * SensirionWord.BYTES];
    command[0] = (byte) (MEASURE_RAW_SIGNAL >> 8);
    command[1] = (byte) MEASURE_RAW_SIGNAL;
    SensirionWord.put(command, 2, humidityWord);
    SensirionWord.put(command, 2 + SensirionWord.BYTES, temperatureWord);
    return retries.read(() -> exchange(command, MEASURE_TIME));
  }

  private ChipRead<Integer> exchange(byte[] command, Duration wait) {
    try {
      device.write(command);
    } catch (BusFault e) {
      return ChipRead.failed(e.reason());
    }
    return answerAfter(wait);
  }

  private ChipRead<Integer> answerAfter(Duration wait) {
    try {
      pace.pause(wait);
      byte[] bytes = device.read(SensirionWord.BYTES);
      if (!SensirionWord.intact(bytes, 0)) {
        return ChipRead.failed("wrong checksum (CRC): the wire may be too long or loose");
      }
      return ChipRead.value(SensirionWord.word(bytes, 0));
    } catch (BusFault e) {
      return ChipRead.failed(e.reason());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return ChipRead.failed("stopped while measuring");
    }
  }
}
