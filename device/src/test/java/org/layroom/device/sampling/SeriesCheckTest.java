package org.layroom.device.sampling;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;
import org.layroom.device.telemetry.Quality;

/**
 * What makes a value a fault or a doubt by its own past. The range is a DS18B20's, of its sheet.
 */
class SeriesCheckTest {
  private static final double COLDEST = -55;
  private static final double HOTTEST = 125;
  private static final double JUMP = 8;
  private static final Duration STUCK = Duration.ofHours(1);

  private final SeriesCheck watch =
      new SeriesCheck(new SeriesCheck.Limits(COLDEST, HOTTEST, JUMP, STUCK, "degC"));

  private Quality at(double value, long seconds) {
    return watch.judge(value, Duration.ofSeconds(seconds));
  }

  private static String reason(Quality quality) {
    return quality.words();
  }

  @Test
  void outsideTheSensorsRangeIsAFaultWithTheRangeInWords() {
    for (double value : List.of(-55.1, 125.1, 1e9, Double.NEGATIVE_INFINITY, Double.NaN)) {
      Quality quality = at(value, 0);
      assertInstanceOf(Quality.Fault.class, quality, "" + value);
      assertTrue(reason(quality).contains("-55 to 125 degC"), reason(quality));
    }
    assertEquals(Quality.good(), at(COLDEST, 1000));
    assertEquals(Quality.good(), at(HOTTEST, 2000));
  }

  @Test
  void aFaultIsNoNeighborToTheNextValue() {
    at(20, 0);
    at(500, 10);
    assertEquals(Quality.good(), at(20.5, 20));
  }

  @Test
  void aStepBetweenNeighborsIsDoubtedAndOneAfterALongGapIsNot() {
    at(20, 0);
    assertInstanceOf(Quality.Suspect.class, at(28.1, 10));
    at(20, 1000);
    assertEquals(Quality.good(), at(28, 1010), "eight degrees are believed");
    assertEquals(Quality.good(), at(50, 1200), "three minutes later it says nothing");
  }

  @Test
  void theVerySameValueForAnHourIsStuckUntilItMoves() {
    for (int second = 0; second < 3600; second += 10) {
      assertEquals(Quality.good(), at(20, second), second + " s");
    }
    assertTrue(reason(at(20, 3600)).contains("stuck"));
    assertEquals(Quality.good(), at(20.1, 3610));
    assertEquals(Quality.good(), at(20.1, 3620));
  }

  @Property
  void noValueIsGoodOutsideTheRange(@ForAll double value) {
    Quality quality =
        new SeriesCheck(new SeriesCheck.Limits(COLDEST, HOTTEST, JUMP, STUCK, "degC"))
            .judge(value, Duration.ZERO);
    assertEquals(value >= COLDEST && value <= HOTTEST, quality.isGood());
  }
}
