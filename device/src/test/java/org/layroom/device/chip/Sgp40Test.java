package org.layroom.device.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.simulated.RoomTruth;
import org.layroom.device.simulated.SimulatedSgp40;

/** The SGP40 driver. */
class Sgp40Test {
  private final SteppedPace pace = new SteppedPace(Instant.EPOCH);

  /** SGP40 data sheet, "measure raw signal": defaults 0x8000 with 0xA2 and 0x6666 with 0x93. */
  @Test
  void fiftyPercentAndTwentyFiveDegreesAreTheSheetsDefaultBytes() {
    FakeDevice device = FakeDevice.answering(new byte[] {(byte) 0xBE, (byte) 0xEF, (byte) 0x92});
    assertEquals(ChipRead.value(0xBEEF), new Sgp40(device, pace).read(25, 50));
    assertEquals(ChipRead.value(0xBEEF), new Sgp40(device, pace).readUncorrected());
    assertEquals(List.of("260f8000a2666693", "260f8000a2666693"), device.written());
  }

  /** SGP40 data sheet, self test: 0xD4 and any low byte is a pass, 0x4B a failure. */
  @Test
  void theSelfTestsAnswerIsUnderstood() {
    RoomTruth truth = new RoomTruth(20, 50, 20, 20, 101_325, 30_000);
    assertTrue(new Sgp40(new SimulatedSgp40(() -> truth, pace::uptime), pace).passesSelfTest());
    byte[] failed = new byte[3];
    SensirionWord.put(failed, 0, 0x4B00);
    assertFalse(new Sgp40(FakeDevice.answering(failed), pace).passesSelfTest());
    assertFalse(new Sgp40(FakeDevice.silent(), pace).passesSelfTest());
  }

  /** SGP40 data sheet, self test: over after 320 ms at most. */
  @Test
  void aSelfTestThatHasBegunWaitsForWhatIsLeftOfIt() {
    RoomTruth truth = new RoomTruth(20, 50, 20, 20, 101_325, 30_000);
    Sgp40 chip = new Sgp40(new SimulatedSgp40(() -> truth, pace::uptime), pace);
    chip.beginSelfTest();
    pace.advanceBy(Duration.ofMillis(200));
    assertTrue(chip.passesSelfTest());
    assertEquals(Duration.ofMillis(320), pace.uptime());
    chip.beginSelfTest();
    pace.advanceBy(Duration.ofSeconds(2));
    assertTrue(chip.passesSelfTest());
    assertEquals(Duration.ofMillis(2320), pace.uptime(), "nothing is left to wait for");
  }

  @Property
  void theChipAcceptsEveryAirAndItsSignalIsReadBack(
      @ForAll @DoubleRange(min = -60, max = 150) double celsius,
      @ForAll @DoubleRange(min = -5, max = 105) double humidity,
      @ForAll @IntRange(max = 65_535) int raw) {
    RoomTruth truth = new RoomTruth(celsius, humidity, 20, 20, 101_325, raw);
    Sgp40 chip = new Sgp40(new SimulatedSgp40(() -> truth, pace::uptime), pace);
    assertEquals(ChipRead.value(raw), chip.read(celsius, humidity));
  }

  @Property
  void anyBytesGiveAValueOrAReason(@ForAll @Size(max = 6) byte[] bytes) {
    assertNotNull(new Sgp40(FakeDevice.answering(bytes), pace).read(20, 50));
  }

  @Test
  void aMissingChipIsAReason() {
    assertInstanceOf(ChipRead.Failed.class, new Sgp40(FakeDevice.silent(), pace).readUncorrected());
  }
}
