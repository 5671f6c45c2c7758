package org.layroom.device.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.simulated.RoomTruth;
import org.layroom.device.simulated.SimulatedSht4x;

/** The SHT4x driver. */
class Sht4xTest {
  private final SteppedPace pace = new SteppedPace(Instant.EPOCH);

  /** SHT4x data sheet section 4.6, by hand: 0x6666 = 26214 = 0.4 x 65535; 0x8000 is 32768. */
  @Test
  void theSheetsFormulasComeOut() {
    assertEquals(25.0, Sht4x.temperatureC(0x6666), 1e-9);
    assertEquals(-45.0, Sht4x.temperatureC(0), 1e-9);
    assertEquals(130.0, Sht4x.temperatureC(65_535), 1e-9);
    assertEquals(56.501, Sht4x.humidityPct(0x8000), 0.001);
  }

  /** Section 4.6: values outside 0 to 100 % are cropped. */
  @Test
  void humidityIsCropped() {
    assertEquals(0, Sht4x.humidityPct(0));
    assertEquals(100, Sht4x.humidityPct(65_535));
  }

  /** Section 4.5: 0xFD, then six bytes; 0xBEEF carries 0x92 (section 4.4). */
  @Test
  void aMeasurementSendsTheHighPrecisionCommand() {
    FakeDevice device = FakeDevice.answering(new byte[] {(byte) 0xBE, (byte) 0xEF, (byte) 0x92});
    Sht4x.Air air =
        (Sht4x.Air) assertInstanceOf(ChipRead.Value.class, new Sht4x(device, pace).read()).value();
    assertEquals(List.of("fd"), device.written());
    assertEquals(-45 + 175.0 * 0xBEEF / 65_535, air.temperatureC(), 1e-9);
  }

  /** The resolution promised for recordings: half of 175/65535 K and 125/65535 %. */
  @Property
  void whatTheSimulatedChipShowsIsReadBack(
      @ForAll @DoubleRange(min = -40, max = 125) double celsius,
      @ForAll @DoubleRange(min = 0, max = 100) double humidity) {
    RoomTruth truth = new RoomTruth(celsius, humidity, 20, 20, 101_325, 30_000);
    Sht4x chip = new Sht4x(new SimulatedSht4x(() -> truth, pace::uptime), pace);
    assertTrue(chip.present());
    Sht4x.Air air = (Sht4x.Air) assertInstanceOf(ChipRead.Value.class, chip.read()).value();
    assertEquals(celsius, air.temperatureC(), 0.00134);
    assertEquals(humidity, air.humidityPct(), 0.00096);
  }

  @Test
  void aWrongCheckByteIsAReason() {
    FakeDevice device = FakeDevice.answering(new byte[] {(byte) 0xBE, (byte) 0xEF, 0x00});
    assertTrue(
        assertInstanceOf(ChipRead.Failed.class, new Sht4x(device, pace).read())
            .reason()
            .contains("CRC"));
  }

  @Property
  void anyBytesGiveAValueOrAReason(@ForAll @Size(max = 12) byte[] bytes) {
    ChipRead<Sht4x.Air> read = new Sht4x(FakeDevice.answering(bytes), pace).read();
    if (read instanceof ChipRead.Value<Sht4x.Air> value) {
      assertTrue(value.value().temperatureC() >= -45 && value.value().temperatureC() <= 130);
    }
  }
}
