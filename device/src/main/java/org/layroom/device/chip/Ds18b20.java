package org.layroom.device.chip;

import java.util.Arrays;
import java.util.HexFormat;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.OneWire;

/**
 * Maxim DS18B20: a thermometer on a wire, for the mold or the resin can (data sheet "DS18B20",
 * section "Measuring temperature": 1/16 degC, -55 to 125 degC, +85 degC at power-on), read through
 * the Linux kernel's {@code w1_therm}.
 *
 * <p>Wiring: VDD 3.3 V, GND, data to GPIO 4 (pin 7) with 4.7 kOhm to 3.3 V. Tape it to the back of
 * the mold with foam over it, so that it feels the mold and not the air.
 */
public final class Ds18b20 {
  /** The scratchpad's nine bytes, and what the kernel says of their check byte. */
  private static final Pattern CRC_LINE =
      Pattern.compile("((?:[0-9a-fA-F]{2} ){9}): crc=[0-9a-fA-F]{2} (YES|NO)\\s");

  private static final Pattern TEMPERATURE = Pattern.compile("\\bt=(-?\\d{1,6})\\b");
  private static final int CRC_BYTE = 8;
  private static final int POLYNOMIAL_REFLECTED = 0x8C;
  private static final int POWER_ON_MILLIDEGREES = 85_000;
  private static final int LOWEST_MILLIDEGREES = -55_000;
  private static final int HIGHEST_MILLIDEGREES = 125_000;

  /** A real 85 degC comes through its neighborhood, degC. */
  private static final double NEAR_POWER_ON = 5;

  private final OneWire wire;
  private final String id;
  private OptionalDouble last = OptionalDouble.empty();

  public Ds18b20(OneWire wire, String id) {
    this.wire = wire;
    this.id = id;
  }

  /** The name of the thermometer, such as {@code 28-0316a279f1ff}. */
  public String id() {
    return id;
  }

  /**
   * Reads, in degC; the kernel waits up to 0.75 s on the caller's thread, and as long again where a
   * thermometer that answered before gives a bad answer now.
   */
  public ChipRead<Double> read() {
    ChipRead<Double> read = readOnce();
    if (read instanceof ChipRead.Failed<Double> && last.isPresent()) {
      read = readOnce();
    }
    last =
        read instanceof ChipRead.Value<Double> value
            ? OptionalDouble.of(value.value())
            : OptionalDouble.empty();
    return read;
  }

  private ChipRead<Double> readOnce() {
    try {
      return parse(wire.slaveText(id));
    } catch (BusFault e) {
      return ChipRead.failed(e.reason());
    }
  }

  private ChipRead<Double> parse(String text) {
    if (text.isBlank()) {
      return ChipRead.failed("the thermometer sent an empty answer: check its wire");
    }
    Matcher crc = CRC_LINE.matcher(text);
    Matcher temperature = TEMPERATURE.matcher(text);
    if (!crc.find() || !temperature.find(crc.end())) {
      return ChipRead.failed("the thermometer's answer cannot be read");
    }
    byte[] scratchpad = HexFormat.ofDelimiter(" ").parseHex(crc.group(1).strip());
    if (crc.group(2).equals("NO") || crc(scratchpad) != (scratchpad[CRC_BYTE] & 0xFF)) {
      return ChipRead.failed("wrong checksum (CRC): the wire may be too long or loose");
    }
    if (Arrays.equals(scratchpad, new byte[CRC_BYTE + 1])) {
      return ChipRead.failed(
          "the thermometer sent nothing but zeros: its data wire may touch ground");
    }
    int millidegrees = Integer.parseInt(temperature.group(1));
    if (millidegrees < LOWEST_MILLIDEGREES || millidegrees > HIGHEST_MILLIDEGREES) {
      return ChipRead.failed("the thermometer reads outside -55 to 125 °C");
    }
    double celsius = millidegrees / 1000.0;
    if (millidegrees == POWER_ON_MILLIDEGREES && !wasNear(celsius)) {
      return ChipRead.failed("85 °C is the chip's power-on value, not a reading");
    }
    return ChipRead.value(celsius);
  }

  /**
   * Data sheet, "CRC generation": x^8 + x^5 + x^4 + 1, reflected, start 0. All zeros have a right
   * one.
   */
  private static int crc(byte[] scratchpad) {
    int crc = 0;
    for (int i = 0; i < CRC_BYTE; i++) {
      crc ^= scratchpad[i] & 0xFF;
      for (int bit = 0; bit < 8; bit++) {
        crc = (crc & 1) != 0 ? crc >> 1 ^ POLYNOMIAL_REFLECTED : crc >> 1;
      }
    }
    return crc;
  }

  private boolean wasNear(double celsius) {
    return last.isPresent() && Math.abs(last.getAsDouble() - celsius) <= NEAR_POWER_ON;
  }
}
