package org.layroom.device.sampling;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.device.telemetry.SensorOffset;

/** Which of two comparisons counts: the newer, by its day. */
class CurrentOffsetsTest {
  private static final LocalDate FIRST = LocalDate.of(2026, 3, 1);
  private static final String MOLD = "mold-temperature";
  private static final String ID = "28-0000054c4ac5";

  private final CurrentOffsets offsets = new CurrentOffsets(Map.of(ID, new Offset(-0.4, FIRST)));

  private double amount() {
    return offsets.use(MOLD, Optional.of(ID)).map(SensorOffset::amount).orElse(0.0);
  }

  private void decided(double amount, LocalDate day) {
    offsets.decided(List.of(new SensorOffset(MOLD, amount, day, "Kim")));
  }

  @Test
  void theFileCountsUntilSomethingNewerIsDecided() {
    assertEquals(-0.4, amount());
    decided(0.2, FIRST.minusDays(1));
    assertEquals(-0.4, amount(), "decided before the file's comparison");
    decided(0.3, FIRST);
    assertEquals(0.3, amount(), "of the same day, on purpose and by name");
    decided(0.1, FIRST.plusDays(9));
    assertEquals(0.1, amount());
  }

  @Test
  void aCorrectionTakenAwayLaterOutranksTheFileToo() {
    decided(0, FIRST.plusDays(1));
    assertEquals(0, amount());
    assertEquals(List.of(), offsets.used());
  }

  @Test
  void whatIsUsedIsTold() {
    amount();
    assertEquals(List.of(new SensorOffset(MOLD, -0.4, FIRST, "")), offsets.used());
    decided(0.3, FIRST.plusDays(1));
    amount();
    assertEquals(List.of(new SensorOffset(MOLD, 0.3, FIRST.plusDays(1), "Kim")), offsets.used());
  }

  @Test
  void anotherThermometerIsNotCorrected() {
    assertEquals(Optional.empty(), offsets.use("resin-temperature", Optional.of("28-1")));
  }
}
