package org.layroom.device.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.HexFormat;
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
import org.layroom.device.simulated.SimulatedMlx90614;

/** The MLX90614 driver. */
class Mlx90614Test {
  private final SteppedPace pace = new SteppedPace(Instant.EPOCH);

  /** 0x3AD2 is 28.01 degC: the chip's own temperature in these tests. */
  private static final String OWN = "d23a" + hexPec(0x06, 0xD2, 0x3A);

  private static String hexPec(int command, int low, int high) {
    return HexFormat.of()
        .toHexDigits((byte) Mlx90614.pec(command, new byte[] {(byte) low, (byte) high, 0}));
  }

  /** A chip that answers each command with fixed bytes. */
  private record Script(Map<Integer, String> words) implements I2cDevice {
    @Override
    public void write(byte... bytes) throws BusFault {
      throw new BusFault("nothing is to be written");
    }

    @Override
    public byte[] read(int count) throws BusFault {
      throw new BusFault("nothing is to be read without a command");
    }

    @Override
    public byte[] writeRead(byte[] bytes, int count) {
      return HexFormat.of().parseHex(words.getOrDefault(bytes[0] & 0xFF, "ffffff"));
    }
  }

  /**
   * MLX90614 data sheet, examples "read word" (SA 0x5A, command 0x07, answer 0xD2 0x3A, PEC 0x30)
   * and "write word" (command 0x22, 0x07 0xC8, PEC 0x48), from memory; both recomputed outside this
   * project with a CRC-8 of polynomial 0x07. The second has no read address, so it is not used.
   */
  @Test
  void theSheetsReadExampleHasItsPacketErrorCode() {
    assertEquals(0x30, Mlx90614.pec(0x07, new byte[] {(byte) 0xD2, 0x3A, 0x30}));
    ChipRead<Mlx90614.Surface> read =
        new Mlx90614(new Script(Map.of(0x06, OWN, 0x07, "d23a30")), 1, pace).read();
    Mlx90614.Surface surface =
        (Mlx90614.Surface) assertInstanceOf(ChipRead.Value.class, read).value();
    assertEquals(28.01, surface.surfaceC(), 1e-6);
    assertEquals(28.01, surface.ownC(), 1e-6);
  }

  /** MLX90614 data sheet, "Temperature calculation": 0x27AD is -70.01, 0x7FFF is 382.19 degC. */
  @ParameterizedTest
  @CsvSource({"10157,-70.01", "32767,382.19", "15058,28.01"})
  void theSheetsFormulaComesOut(int word, double celsius) {
    assertEquals(celsius, Mlx90614.celsius(word), 1e-6);
  }

  @ParameterizedTest
  @CsvSource({"d23a31,CRC", "000080,CRC", "ffffff,CRC"})
  void aWrongCheckByteIsAReason(String answer, String reason) {
    ChipRead<Mlx90614.Surface> read =
        new Mlx90614(new Script(Map.of(0x06, OWN, 0x07, answer)), 1, pace).read();
    assertTrue(
        assertInstanceOf(ChipRead.Failed.class, read).reason().contains(reason), read.toString());
  }

  /** Bit 15 is the error flag, even with the right check byte; below 0x27AD nothing is measured. */
  @ParameterizedTest
  @CsvSource({"0,128,error", "0,32,below its range"})
  void anErrorOfTheChipIsAReason(int low, int high, String reason) {
    String answer =
        HexFormat.of().formatHex(new byte[] {(byte) low, (byte) high}) + hexPec(0x07, low, high);
    ChipRead<Mlx90614.Surface> read =
        new Mlx90614(new Script(Map.of(0x06, OWN, 0x07, answer)), 1, pace).read();
    assertTrue(
        assertInstanceOf(ChipRead.Failed.class, read).reason().contains(reason), read.toString());
  }

  /**
   * Stefan and Boltzmann, by hand: seen 306.15 K (8.7849e9 K^4), around 293.15 K (7.3852e9 K^4),
   * emissivity 0.95: (8.7849 - 0.05 x 7.3852) / 0.95 = 8.8586e9, fourth root 306.79 K = 33.64 degC.
   */
  @Test
  void aGreySurfaceIsWarmerThanItLooksInAColderRoom() {
    assertEquals(33.64, Mlx90614.greyBodyC(33, 20, 0.95), 0.01);
    assertEquals(20, Mlx90614.greyBodyC(20, 20, 0.6), 1e-9);
    assertThrows(
        IllegalArgumentException.class, () -> new Mlx90614(FakeDevice.silent(), 0.05, pace));
  }

  @Property
  void whatTheSimulatedChipSeesIsReadBack(
      @ForAll @DoubleRange(min = -40, max = 150) double surface,
      @ForAll @DoubleRange(min = -20, max = 60) double own) {
    Mlx90614 chip = new Mlx90614(new SimulatedMlx90614(() -> surface, () -> own), 1, pace);
    assertTrue(chip.present());
    Mlx90614.Surface read =
        (Mlx90614.Surface) assertInstanceOf(ChipRead.Value.class, chip.read()).value();
    assertEquals(surface, read.surfaceC(), 0.0101);
    assertEquals(own, read.ownC(), 0.0101);
  }

  @Property
  void anyBytesGiveAValueOrAReason(@ForAll @Size(max = 8) byte[] bytes) {
    Mlx90614 chip = new Mlx90614(FakeDevice.answering(bytes), 0.95, pace);
    chip.present();
    if (chip.read() instanceof ChipRead.Value<Mlx90614.Surface> value) {
      assertTrue(value.value().surfaceC() > -70.1 && value.value().surfaceC() < 382.3);
    }
  }

  @Test
  void aMissingChipIsAReason() {
    assertFalse(new Mlx90614(FakeDevice.silent(), 1, pace).present());
    assertInstanceOf(ChipRead.Failed.class, new Mlx90614(FakeDevice.silent(), 1, pace).read());
  }
}
