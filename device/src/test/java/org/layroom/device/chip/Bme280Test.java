package org.layroom.device.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.simulated.RoomTruth;
import org.layroom.device.simulated.SimulatedBme280;

/** The BME280 driver. */
class Bme280Test {
  private final SteppedPace pace = new SteppedPace(Instant.EPOCH);

  /**
   * BMP280 data sheet (BST-BMP280-DS001) section 3.12, worked example of the formulas that the
   * BME280 shares: t_fine 128422, 25.08 degC, 100653.27 Pa; more digits recomputed outside this
   * project: 128422.287, 25.08248, 100653.2668.
   */
  @Test
  void theDataSheetsWorkedExampleComesOut() {
    Bme280Calibration sheet =
        new Bme280Calibration(
            27504, 26435, -1000, 36477, -10685, 3024, 2855, 140, -7, 15500, -14600, 6000, 0, 0, 0,
            0, 0, 0);
    double fine = sheet.fineTemperature(519_888);
    assertEquals(128_422.287, fine, 0.001);
    assertEquals(25.08248, Bme280Calibration.temperatureC(fine), 0.00001);
    assertEquals(100_653.2668, sheet.pressurePa(415_148, fine), 0.0001);
  }

  /**
   * The simulated chip uses the data sheet's integer code (section 4.2.3), the driver its
   * double-precision formulas (appendix 8.1): two implementations of one sheet.
   */
  @Property(tries = 300)
  void theDriverReadsWhatTheSheetsIntegerCodeShows(
      @ForAll @DoubleRange(min = -20, max = 60) double celsius,
      @ForAll @DoubleRange(min = 5, max = 95) double humidity,
      @ForAll @DoubleRange(min = 90_000, max = 105_000) double pascal) {
    RoomTruth truth = new RoomTruth(celsius, humidity, 20, 20, pascal, 30_000);
    Bme280 chip = new Bme280(new SimulatedBme280(() -> truth), pace);
    assertTrue(chip.present());
    ChipRead.Value<?> read = assertInstanceOf(ChipRead.Value.class, chip.read());
    Bme280.Air air = (Bme280.Air) read.value();
    assertEquals(celsius, air.temperatureC(), 0.02);
    assertEquals(humidity, air.humidityPct(), 0.1);
    assertEquals(pascal, air.pressurePa(), 5);
  }

  /**
   * Data sheet BST-BME280-DS002, sections 5.4.7 to 5.4.9 with 5.4.3 and 5.4.5: 0x80000 (humidity:
   * 0x8000) is what a skipped channel shows, and a measured one may show it as well. Expected
   * values: appendix 8.1 recomputed outside this project with the words of the simulated chip.
   */
  @ParameterizedTest
  @CsvSource({
    "0x80000, 415148, 30000, 26.460843, 55.048815, 100865.573",
    "519888, 0x80000, 30000, 25.082478, 55.000715, 81874.699",
    "519888, 415148, 0x8000, 25.082478, 70.359986, 100653.267",
  })
  void aMeasuredValueThatLooksSkippedIsAValue(
      String temperature, String pressure, String humidity, double celsius, double pct, double pa) {
    RegisterChip chip =
        new RegisterChip(
            Integer.decode(temperature), Integer.decode(pressure), Integer.decode(humidity));
    ChipRead.Value<?> read = assertInstanceOf(ChipRead.Value.class, new Bme280(chip, pace).read());
    Bme280.Air air = (Bme280.Air) read.value();
    assertEquals(celsius, air.temperatureC(), 1e-5);
    assertEquals(pct, air.humidityPct(), 1e-5);
    assertEquals(pa, air.pressurePa(), 1e-2);
  }

  /** A brown-out between starting and reading: every setting is 0 again (section 5.3, reset). */
  @ParameterizedTest
  @CsvSource({
    "0x80000, 0x80000, 0x8000",
    "0x80000, 415148, 30000",
    "519888, 0x80000, 30000",
    "519888, 415148, 0x8000"
  })
  void aChipThatLostItsSettingsDidNotMeasure(String temperature, String pressure, String humidity) {
    RegisterChip chip =
        new RegisterChip(
            Integer.decode(temperature), Integer.decode(pressure), Integer.decode(humidity));
    chip.losesItsSettings();
    assertEquals(
        ChipRead.failed("the chip did not measure: it may have lost power"),
        new Bme280(chip, pace).read());
  }

  /** Humidity oversampling counts from the next write to ctrl_meas on (section 5.4.3). */
  @ParameterizedTest
  @CsvSource({"0x80000, 415148, 30000, 0xE0", "519888, 0x80000, 30000, 0x1C"})
  void aChannelThatIsSwitchedOffDidNotMeasure(
      String temperature, String pressure, String humidity, String itsOversampling) {
    RegisterChip chip =
        new RegisterChip(
            Integer.decode(temperature), Integer.decode(pressure), Integer.decode(humidity));
    chip.clears(0xF4, Integer.decode(itsOversampling));
    assertInstanceOf(ChipRead.Failed.class, new Bme280(chip, pace).read());
  }

  /** What the data registers hold after power-on, all at once: a measurement was never made. */
  @Test
  void aChipThatShowsItsPowerOnValuesInAllChannelsDidNotMeasure() {
    RegisterChip chip = new RegisterChip(0x80000, 0x80000, 0x8000);
    assertInstanceOf(ChipRead.Failed.class, new Bme280(chip, pace).read());
  }

  /** A simulated BME280 with settings as written and data registers as told. */
  private static final class RegisterChip implements I2cDevice {
    private final SimulatedBme280 calibrated =
        new SimulatedBme280(() -> new RoomTruth(20, 50, 20, 20, 100_000, 30_000));
    private final byte[] registers = new byte[256];
    private final Map<Integer, Integer> cleared = new HashMap<>();

    RegisterChip(int temperature, int pressure, int humidity) {
      put(0xF7, pressure << 4, 3);
      put(0xFA, temperature << 4, 3);
      put(0xFD, humidity, 2);
    }

    private void put(int address, int value, int bytes) {
      for (int i = 0; i < bytes; i++) {
        registers[address + i] = (byte) (value >> (8 * (bytes - 1 - i)));
      }
    }

    void losesItsSettings() {
      clears(0xF2, 0xFF);
      clears(0xF4, 0xFF);
    }

    void clears(int address, int bits) {
      cleared.put(address, bits);
    }

    @Override
    public void write(byte... bytes) {
      for (int i = 0; i + 1 < bytes.length; i += 2) {
        int address = bytes[i] & 0xFF;
        registers[address] = (byte) (bytes[i + 1] & ~cleared.getOrDefault(address, 0));
      }
    }

    @Override
    public byte[] read(int count) throws BusFault {
      throw new BusFault("read without an address");
    }

    @Override
    public byte[] writeRead(byte[] bytes, int count) throws BusFault {
      int address = bytes[0] & 0xFF;
      return address < 0xF2
          ? calibrated.writeRead(bytes, count)
          : Arrays.copyOfRange(registers, address, address + count);
    }
  }

  @Test
  void anotherChipAtTheAddressIsAReasonAndNotAValue() {
    ChipRead<Bme280.Air> read = new Bme280(FakeDevice.answering(new byte[] {0x58}), pace).read();
    assertTrue(assertInstanceOf(ChipRead.Failed.class, read).reason().contains("0x58"));
  }

  @Test
  void aMissingChipIsAReasonAndNotAValue() {
    assertInstanceOf(ChipRead.Failed.class, new Bme280(FakeDevice.silent(), pace).read());
  }

  @Property
  void anyBytesGiveAValueOrAReason(@ForAll @Size(min = 1, max = 40) byte[] bytes) {
    bytes[0] = 0x60;
    ChipRead<Bme280.Air> read = new Bme280(FakeDevice.answering(bytes), pace).read();
    if (read instanceof ChipRead.Value<Bme280.Air> value) {
      assertTrue(value.value().temperatureC() >= -40 && value.value().temperatureC() <= 85);
      assertTrue(value.value().pressurePa() >= 30_000 && value.value().pressurePa() <= 110_000);
      assertTrue(value.value().humidityPct() >= 0 && value.value().humidityPct() <= 100);
    }
  }
}
