package org.layroom.device.chip;

import com.code_intelligence.jazzer.junit.FuzzTest;
import com.code_intelligence.jazzer.mutation.annotation.NotNull;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.bus.OneWire;
import org.layroom.device.pace.Pace;
import org.layroom.device.pace.SteppedPace;

/**
 * Any bytes from any chip: a value that the chip can measure, or a reason. The first byte chooses
 * the chip, the rest is what it answers, read after read. Ranges as in each driver's data sheet.
 */
class ChipFuzz {
  /** A chip whose answers follow one another; when they are over the bus is silent. */
  private static final class Babbling implements I2cDevice {
    private final byte[] answers;
    private int at;

    Babbling(byte[] answers) {
      this.answers = answers;
    }

    @Override
    public void write(byte... bytes) {}

    @Override
    public byte[] read(int count) throws BusFault {
      if (at + count > answers.length) {
        throw new BusFault("no answer");
      }
      at += count;
      return Arrays.copyOfRange(answers, at - count, at);
    }

    @Override
    public byte[] writeRead(byte[] bytes, int count) throws BusFault {
      return read(count);
    }
  }

  @FuzzTest
  void answers(byte @NotNull [] bytes) {
    if (bytes.length == 0) {
      return;
    }
    byte[] rest = Arrays.copyOfRange(bytes, 1, bytes.length);
    try (Pace pace = new SteppedPace(Instant.EPOCH)) {
      Babbling chip = new Babbling(rest);
      switch (bytes[0] & 7) {
        case 0, 1 -> bme280(new Bme280(chip, pace));
        case 2 -> sht4x(new Sht4x(chip, pace).read());
        case 3 ->
            within(
                "ticks",
                new Sgp40(chip, pace).readUncorrected().map(Integer::doubleValue),
                0,
                65_535);
        case 4 -> within("volts", new Ads1115(chip, pace, 0).read(), -6.144, 6.144);
        case 5 -> mlx90614(new Mlx90614(chip, 0.95, pace).read());
        default -> oneWire(rest);
      }
    }
  }

  private static void bme280(Bme280 chip) {
    for (int i = 0; i < 3; i++) {
      ChipRead<Bme280.Air> read = chip.read();
      within("degC", read.map(Bme280.Air::temperatureC), -40, 85);
      within("%", read.map(Bme280.Air::humidityPct), 0, 100);
      within("Pa", read.map(Bme280.Air::pressurePa), 30_000, 110_000);
    }
  }

  private static void sht4x(ChipRead<Sht4x.Air> read) {
    within("degC", read.map(Sht4x.Air::temperatureC), -45, 130);
    within("%", read.map(Sht4x.Air::humidityPct), 0, 100);
  }

  private static void mlx90614(ChipRead<Mlx90614.Surface> read) {
    within("degC", read.map(Mlx90614.Surface::surfaceC), -70.02, 382.2);
    within("degC", read.map(Mlx90614.Surface::ownC), -40, 125);
  }

  private static void oneWire(byte[] text) {
    OneWire wire =
        new OneWire() {
          @Override
          public List<String> ids() {
            return List.of("28-0316a279f1ff");
          }

          @Override
          public String slaveText(String id) {
            return new String(text, StandardCharsets.ISO_8859_1);
          }
        };
    within("degC", new Ds18b20(wire, "28-0316a279f1ff").read(), -55, 125);
  }

  private static void within(String unit, ChipRead<Double> read, double least, double most) {
    if (read instanceof ChipRead.Value<Double> value) {
      if (!(value.value() >= least && value.value() <= most)) {
        throw new AssertionError(value.value() + " " + unit + " cannot be measured");
      }
    } else if (read instanceof ChipRead.Failed<Double> failed && failed.reason().isBlank()) {
      throw new AssertionError("no value and no reason");
    }
  }
}
