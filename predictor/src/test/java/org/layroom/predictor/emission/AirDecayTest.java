package org.layroom.predictor.emission;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.emission.AirDecay.Circumstances;
import org.layroom.predictor.emission.AirDecay.Result;
import org.layroom.predictor.exposure.AirSample;

/** Air changes from the fall of the vapor, by the concentration decay method of ASTM E741. */
class AirDecayTest {
  private static final Instant START = Instant.parse("2026-03-02T18:00:00Z");
  private static final Circumstances CALM = new Circumstances(0, true, true, true);

  private static AirSample sample(double hours, double value) {
    return new AirSample(START.plusMillis(Math.round(hours * 3_600_000)), value);
  }

  private static List<AirSample> fall(double perHour, double from, double background, int points) {
    List<AirSample> samples = new ArrayList<>();
    for (int i = 0; i < points; i++) {
      double hours = i / 20.0;
      samples.add(sample(hours, background + from * Math.exp(-perHour * hours)));
    }
    return samples;
  }

  private static AirDecay accepted(List<AirSample> samples, Circumstances circumstances) {
    return assertInstanceOf(Result.Accepted.class, AirDecay.of(samples, circumstances)).decay();
  }

  private static String refused(List<AirSample> samples, Circumstances circumstances) {
    return String.join(
        " ", assertInstanceOf(Result.Refused.class, AirDecay.of(samples, circumstances)).reasons());
  }

  // A published tracer exercise: 20 m3 room; 16, 12.5, 9.7, 7.9, 4.1 ppm: 9.9 m3/h. Its five points
  // are each read twice, because fewer than ten are not accepted.
  @Test
  void thePublishedTracerExerciseGives9Point9CubicMeters() {
    double[] hours = {0, 0.5, 1, 1.4, 2.8};
    double[] ppm = {16, 12.5, 9.7, 7.9, 4.1};
    List<AirSample> samples = new ArrayList<>();
    for (int i = 0; i < hours.length; i++) {
      samples.add(sample(hours[i], ppm[i]));
      samples.add(sample(hours[i], ppm[i]));
    }
    AirDecay decay = accepted(samples, CALM);
    assertEquals(9.9, 20 * decay.perHour(), 0.2);
    assertEquals(0.48675, decay.perHour(), 5e-6);
    assertEquals(0.99957, decay.r2(), 5e-6);
    assertEquals(1.4240, decay.halfTime().toMillis() / 3.6e6, 5e-5);
  }

  // Worked out by hand: 200 ppm above a background of 5 falling at 4 per hour; 3.715 when the
  // background is forgotten. Each point twice, as above.
  @Test
  void theBackgroundIsTakenOff() {
    double[] minutes = {0, 5, 10, 15, 20, 30};
    double[] ppm = {205.0, 148.31, 107.68, 78.58, 57.72, 32.07};
    List<AirSample> samples = new ArrayList<>();
    for (int i = 0; i < minutes.length; i++) {
      samples.add(sample(minutes[i] / 60, ppm[i]));
      samples.add(sample(minutes[i] / 60, ppm[i]));
    }
    assertEquals(4.000, accepted(samples, new Circumstances(5, true, true, true)).perHour(), 5e-4);
    assertEquals(3.715, accepted(samples, CALM).perHour(), 5e-4);
  }

  @Property(tries = 40)
  void anyPureDecayIsFound(
      @ForAll @DoubleRange(min = 1.6, max = 20) double perHour,
      @ForAll @DoubleRange(min = 0, max = 5) double background) {
    AirDecay decay =
        accepted(
            fall(perHour, 100, background, 12), new Circumstances(background, true, true, true));
    assertEquals(perHour, decay.perHour(), 1e-6 * perHour + 1e-9);
  }

  @Test
  void tooFewPointsTooSmallAFallAndACrookedOneAreRefused() {
    assertTrue(refused(fall(4, 100, 0, 9), CALM).contains("9 readings"));
    assertTrue(refused(fall(0.5, 100, 0, 12), CALM).contains("fallen to half"));
    List<AirSample> crooked = new ArrayList<>();
    for (int i = 0; i < 12; i++) {
      crooked.add(sample(i / 20.0, i % 2 == 0 ? 100 : 20));
    }
    assertTrue(refused(crooked, CALM).contains("evenly"));
  }

  @Test
  void aSourceOrAMovedDoorIsRefusedHoweverFineTheLine() {
    List<AirSample> fine = fall(6, 100, 0, 20);
    assertTrue(refused(fine, new Circumstances(0, true, false, true)).contains("gives off"));
    assertTrue(refused(fine, new Circumstances(0, true, true, false)).contains("door"));
  }

  @Test
  void aRiseIsNoDecay() {
    assertTrue(refused(fall(-4, 10, 0, 12), CALM).contains("evenly"));
  }

  @Test
  void onlyACalibratedSensorSpeaksOfAirChanges() {
    List<AirSample> fine = fall(6, 20, 1, 20);
    AirDecay ppm = accepted(fine, new Circumstances(1, true, true, true));
    AirDecay level = accepted(fine, new Circumstances(1, false, true, true));
    assertTrue(ppm.words().contains("6.0 air changes"), ppm.words());
    assertTrue(level.words().contains("compare days in this room"), level.words());
    assertTrue(!level.words().contains("air changes"), level.words());
    assertTrue(!level.words().contains("ppm"), level.words());
  }

  @Test
  void theFanIsToldAsTimesFaster() {
    AirDecay shut = accepted(fall(2, 100, 0, 20), CALM);
    AirDecay fan = accepted(fall(8, 100, 0, 20), CALM);
    assertEquals(4, fan.timesAsFastAs(shut), 1e-6);
  }

  // By hand: ln(100 / 25) / 2 h.
  @Test
  void theTimeToClearComesFromTheMeasuredRate() {
    AirDecay decay = accepted(fall(2, 100, 0, 20), CALM);
    assertEquals(Math.log(4) / 2, decay.timeToClear(100, 25).toMillis() / 3.6e6, 1e-5);
    assertEquals(Duration.ZERO, decay.timeToClear(10, 25));
    assertThrows(IllegalArgumentException.class, () -> decay.timeToClear(10, 0));
  }
}
