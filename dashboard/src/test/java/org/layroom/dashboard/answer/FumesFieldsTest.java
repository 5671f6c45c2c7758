package org.layroom.dashboard.answer;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.calibration.GelTest;
import org.layroom.predictor.material.Material;

/** Vapor comes off until the layup gels: of the can that stands there, with its gel tests. */
class FumesFieldsTest {
  private static final Material RESIN =
      MaterialShelf.presets().find("gp-resin").orElseThrow().material();

  private static final Map<String, List<String>> LAYUP =
      Map.of(
          "resin", List.of("2kg"),
          "styrene", List.of("42%"),
          "volume", List.of("40m3"),
          "air-changes", List.of("6"),
          "working-time", List.of("30min"),
          "mold-temp", List.of("20C"));

  private static double gelMinutes(MixFields.Taught taught) {
    FumesFields.Parsed parsed =
        FumesFields.parse(LAYUP, FumesFields.Known.of(Optional.of(RESIN), taught));
    assertEquals(List.of(), parsed.refused());
    return parsed.question().orElseThrow().layup().gelTime().toSeconds() / 60.0;
  }

  private static MixFields.Taught gelledAfter(double timesTheSheet) {
    double dose = RESIN.gel().doseByWeightPct();
    double sheet = RESIN.gel().minutes();
    return material ->
        Calibration.of(material)
            .with(new GelTest(GelTest.Where.CUP, 20, dose, timesTheSheet * sheet));
  }

  /** A law of learning: a slower can than its sheet is believed to be slower, and a faster one. */
  @Test
  void aCanThatGelledLaterThanItsSheetSaysGivesOffVaporForLonger() {
    double untaught = gelMinutes(Calibration::of);
    assertTrue(gelMinutes(gelledAfter(1.5)) > 1.1 * untaught, "slower than " + untaught);
    assertTrue(gelMinutes(gelledAfter(0.67)) < 0.95 * untaught, "faster than " + untaught);
  }
}
