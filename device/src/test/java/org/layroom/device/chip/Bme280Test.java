package org.layroom.device.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
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
