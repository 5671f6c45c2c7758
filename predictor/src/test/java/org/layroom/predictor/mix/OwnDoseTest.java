package org.layroom.predictor.mix;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialDraft;

/** What is said of a cup that was mixed as the person wanted it. Common practice, no source. */
class OwnDoseTest {
  private static Material can() throws InvalidMaterial {
    return new MaterialDraft()
        .id("shop-can")
        .name("Shop can")
        .kind("laminating-resin")
        .gel(20, 20, 1.5)
        .doseByWeightPct(1, 2.5)
        .build();
  }

  @Test
  void tooLittleStaysSoftTooMuchGetsHotAndColdIsSlow() throws InvalidMaterial {
    assertEquals(List.of(), OwnDose.warnings(can(), 1.5, 20, 20));
    assertEquals(List.of(), OwnDose.warnings(can(), 1.0, 15, 35), "the limits are allowed");
    List<String> little = OwnDose.warnings(can(), 0.5, 20, 20);
    assertTrue(little.get(0).contains("0.5 %") && little.get(0).contains("soft"), little.get(0));
    List<String> much = OwnDose.warnings(can(), 4, 20, 20);
    assertTrue(much.get(0).contains("hot") && much.get(0).contains("weak"), much.get(0));
    List<String> cold = OwnDose.warnings(can(), 2.5, 20, 12);
    assertTrue(cold.size() == 1 && cold.get(0).startsWith("At 12.0 °C"), cold.toString());
    assertEquals(2, OwnDose.warnings(can(), 4, 36, 12).size() - 1);
  }
}
