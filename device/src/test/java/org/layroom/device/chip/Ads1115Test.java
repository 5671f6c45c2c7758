package org.layroom.device.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HexFormat;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.layroom.device.bus.I2cDevice;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.simulated.SimulatedAds1115;

/** The ADS1115 driver, by the data sheet SBAS444 (figures from memory). */
class Ads1115Test {
  private final SteppedPace pace = new SteppedPace(Instant.EPOCH);

  /**
   * Answers in the order asked, from the first again after the last, and notes all that went over
   * the wire.
   */
  private static final class Script implements I2cDevice {
    private final Deque<byte[]> answers = new ArrayDeque<>();
    private final List<String> wire = new ArrayList<>();

    Script(String... hex) {
      for (String one : hex) {
        answers.add(HexFormat.of().parseHex(one));
      }
    }

    @Override
    public void write(byte... bytes) {
      wire.add(HexFormat.of().formatHex(bytes));
    }

    @Override
    public byte[] read(int count) {
      byte[] next = answers.remove();
      answers.add(next);
      return next;
    }

    @Override
    public byte[] writeRead(byte[] bytes, int count) {
      write(bytes);
      return read(count);
    }
  }

  /**
   * "Config register": OS 1, MUX 100, PGA 001, MODE 1, DR 100, comparator off: 1100 0011 1000 0011
   * is C383. "Data format" at +-4.096 V: one step is 125 uV, so 0x1F40 = 8000 steps is 1 V, 0xFFFF
   * is minus one step, 0x7FFE is 4.09575 V.
   */
  @ParameterizedTest
  @CsvSource({"0000,0", "0001,0.000125", "1f40,1", "ffff,-0.000125", "7ffe,4.09575"})
  void theSheetsStepsAreVolts(String conversion, double volts) {
    Script script = new Script("c383", conversion);
    ChipRead<Double> read = new Ads1115(script, pace, 0).read();
    double value = (Double) assertInstanceOf(ChipRead.Value.class, read).value();
    assertEquals(volts, value, 1e-9);
    assertEquals(List.of("01c383", "01", "00"), script.wire);
  }

  @Test
  void eachInputHasItsBits() {
    Script script = new Script("f383", "0000");
    new Ads1115(script, pace, 3).read();
    assertEquals("01f383", script.wire.get(0), "MUX 111 is AIN3 against ground");
    assertThrows(IllegalArgumentException.class, () -> new Ads1115(script, pace, 4));
  }

  /** "Data format": 7FFF and 8000 mean at or beyond full scale. */
  @ParameterizedTest
  @CsvSource({
    "c383,7fff,beyond",
    "c383,8000,beyond",
    "4383,4383,did not finish",
    "8583,8583,lost its settings"
  })
  void whatCannotBeBelievedIsAReason(String config, String conversion, String reason) {
    ChipRead<Double> read = new Ads1115(new Script(config, conversion), pace, 0).read();
    assertTrue(
        assertInstanceOf(ChipRead.Failed.class, read).reason().contains(reason), read.toString());
  }

  /** "Config register", reset value 8583; another chip's registers are not taken for it. */
  @ParameterizedTest
  @CsvSource({"8583,true", "0583,true", "c383,true", "4383,true", "60a0,false", "ffff,false"})
  void itIsKnownByItsConfigRegisterWithoutBeingWritten(String config, boolean present) {
    Script script = new Script(config);
    assertEquals(present, new Ads1115(script, pace, 0).present());
    assertEquals(List.of("01"), script.wire);
  }

  @Property
  void whatTheSimulatedChipFeelsIsReadBack(@ForAll @DoubleRange(min = -0.1, max = 4.09) double v) {
    Ads1115 chip = new Ads1115(new SimulatedAds1115(() -> v, pace::uptime), pace, 0);
    assertTrue(chip.present());
    double read = (Double) assertInstanceOf(ChipRead.Value.class, chip.read()).value();
    assertEquals(v, read, 62.6e-6);
    assertTrue(chip.present(), "as the driver left it");
  }

  @Property
  void anyBytesGiveAValueOrAReason(@ForAll @Size(max = 8) byte[] bytes) {
    Ads1115 chip = new Ads1115(FakeDevice.answering(bytes), pace, 0);
    if (chip.read() instanceof ChipRead.Value<Double> value) {
      assertTrue(Math.abs(value.value()) < 4.096);
    }
    chip.present();
  }

  @Test
  void aMissingChipIsAReason() {
    Ads1115 chip = new Ads1115(FakeDevice.silent(), pace, 0);
    assertFalse(chip.present());
    assertNotNull(assertInstanceOf(ChipRead.Failed.class, chip.read()).reason());
  }
}
