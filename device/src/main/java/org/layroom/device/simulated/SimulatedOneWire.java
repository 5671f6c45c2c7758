package org.layroom.device.simulated;

import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.function.DoubleSupplier;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.OneWire;

/** Make-believe DS18B20 thermometers, written the way the kernel's {@code w1_slave} shows them. */
public final class SimulatedOneWire implements OneWire {
  /** How a thermometer behaves. */
  public enum Behavior {
    WORKS,
    /** No longer listed, and reading it fails. */
    UNPLUGGED,
    /** The kernel found the check sum wrong. */
    BAD_CRC,
    /** Lost power: shows the chip's reset value. */
    JUST_POWERED_ON,
    /** What some kernels give for a bad check sum: nothing, and no error. */
    EMPTY
  }

  private static final int MAXIM_POLYNOMIAL_REFLECTED = 0x8C;
  private static final int POWER_ON_SIXTEENTHS = 85 * 16;

  private final Map<String, DoubleSupplier> thermometers = new ConcurrentSkipListMap<>();
  private final Map<String, Behavior> behaviors = new ConcurrentHashMap<>();

  /** Fits a thermometer that shows what {@code celsius} gives. */
  public SimulatedOneWire fit(String id, DoubleSupplier celsius) {
    thermometers.put(id, celsius);
    return this;
  }

  public void behave(String id, Behavior behavior) {
    behaviors.put(id, behavior);
  }

  @Override
  public List<String> ids() {
    return thermometers.keySet().stream().filter(id -> behavior(id) != Behavior.UNPLUGGED).toList();
  }

  @Override
  public String slaveText(String id) throws BusFault {
    DoubleSupplier celsius = thermometers.get(id);
    Behavior behavior = behavior(id);
    if (celsius == null || behavior == Behavior.UNPLUGGED) {
      throw new BusFault("thermometer " + id + " does not answer");
    }
    return switch (behavior) {
      case EMPTY -> "";
      case JUST_POWERED_ON -> text(POWER_ON_SIXTEENTHS, true);
      case BAD_CRC -> text(sixteenths(celsius), false);
      default -> text(sixteenths(celsius), true);
    };
  }

  private Behavior behavior(String id) {
    return behaviors.getOrDefault(id, Behavior.WORKS);
  }

  private static int sixteenths(DoubleSupplier celsius) {
    return (int) Math.round(Math.max(-55, Math.min(125, celsius.getAsDouble())) * 16);
  }

  private static String text(int sixteenths, boolean intact) {
    int[] scratchpad = {
      sixteenths & 0xFF, sixteenths >> 8 & 0xFF, 0x4B, 0x46, 0x7F, 0xFF, 0x0C, 0x10, 0
    };
    scratchpad[8] = crc(scratchpad);
    StringBuilder hex = new StringBuilder();
    for (int octet : scratchpad) {
      hex.append("%02x ".formatted(octet));
    }
    return hex
        + ": crc=%02x %s\n".formatted(scratchpad[8], intact ? "YES" : "NO")
        + hex
        + "t=%d\n".formatted(sixteenths * 1000 / 16);
  }

  private static int crc(int[] scratchpad) {
    int crc = 0;
    for (int i = 0; i < 8; i++) {
      crc ^= scratchpad[i];
      for (int bit = 0; bit < 8; bit++) {
        crc = (crc & 1) != 0 ? crc >> 1 ^ MAXIM_POLYNOMIAL_REFLECTED : crc >> 1;
      }
    }
    return crc;
  }
}
