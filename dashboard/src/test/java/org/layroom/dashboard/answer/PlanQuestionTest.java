package org.layroom.dashboard.answer;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.calibration.GelTest;

/** A plan is made for the can that stands there, with what its gel tests have shown. */
class PlanQuestionTest {
  private static final MaterialShelf.Entry RESIN =
      MaterialShelf.presets().find("gp-resin").orElseThrow();

  private static double gelMinutes(MixFields.Taught taught) {
    PlanQuestion.Parsed parsed =
        PlanQuestion.parse(List.of(RESIN), Map.of(), ZoneOffset.UTC, Optional.empty(), taught);
    return parsed
        .question()
        .orElseThrow()
        .chain()
        .get(0)
        .belief()
        .likelyGelMinutes(20, RESIN.material().gel().doseByWeightPct());
  }

  /** A law of learning: what is believed after a test lies between the sheet and the test. */
  @Test
  void aCanThatGelledLaterThanItsSheetSaysIsPlannedToGelLater() {
    double sheet = gelMinutes(Calibration::of);
    assertEquals(RESIN.material().gel().minutes(), sheet, 1e-6);
    double tested = 1.5 * sheet;
    double planned =
        gelMinutes(
            material ->
                Calibration.of(material)
                    .with(
                        new GelTest(
                            GelTest.Where.CUP,
                            20,
                            RESIN.material().gel().doseByWeightPct(),
                            tested)));
    assertTrue(planned > sheet + 0.1 * (tested - sheet), "planned with " + planned + " min");
    assertTrue(planned <= tested, "planned with " + planned + " min");
  }
}
