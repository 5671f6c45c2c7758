package org.layroom.predictor.cure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialDraft;

/** What a recorded temperature amounts to. */
class CureRecordTest {
  private static final MaterialPosterior RESIN = MaterialPosterior.untested(20, 20, 1.5, 54, 0.9);

  private static Material material(boolean structural) throws InvalidMaterial {
    return new MaterialDraft()
        .id("gp-resin")
        .name("General-purpose laminating resin")
        .kind("laminating-resin")
        .gel(20, 20, 1.5)
        .doseByWeightPct(1, 2.5)
        .structural(structural)
        .build();
  }

  private static List<TemperaturePoint> readings(double... hoursThenC) {
    List<TemperaturePoint> points = new ArrayList<>();
    for (int i = 0; i < hoursThenC.length; i += 2) {
      points.add(new TemperaturePoint(60 * hoursThenC[i], hoursThenC[i + 1]));
    }
    return points;
  }

  // The readings of table M2; the exact integral of straight lines is 18.78081 h at 20 °C.
  @Test
  void aDaysRecordAmountsTo18Point78HoursAt20Degrees() throws InvalidMaterial {
    CureAnswer answer =
        CureRecord.answer(
            material(false),
            RESIN,
            1.5,
            readings(0, 22, 1, 21, 2, 19.5, 4, 18, 8, 15, 12, 13, 16, 14, 20, 18, 24, 21));
    assertEquals(18.78081, answer.equivalentHours(), 0.000005);
    assertEquals(6.76816, answer.datumC(), 0.000005);
    // 234.8141 degree-hours in all; by hand along the ramp, over h 8-12, 12-16 and 16-17:
    // 13-15 degC: integral of (T-13)/2 (T-6.768) over T, 4 h per 2 K; 13-14: 4 h per 1 K.
    double ramp1315 = 2 * antiderivative(15) - 2 * antiderivative(13);
    double ramp1314 = 4 * antiderivative(14) - 4 * antiderivative(13);
    double ramp1415 = antiderivative(15) - antiderivative(14);
    double warm = 91.1047;
    double rest = 3 * ((15 + 18) / 2.0 - 6.768160562) + 4 * ((18 + 21) / 2.0 - 6.768160562);
    assertEquals(warm + ramp1315 + ramp1314 + ramp1415 + rest, answer.degreeHours(), 0.0002);
    assertTrue(answer.refused().isEmpty());
    assertTrue(answer.warnings().stream().anyMatch(w -> w.field().equals("temperatureC")));
  }

  /** Antiderivative of (T - 13)/2 (T - datum) in T. */
  private static double antiderivative(double t) {
    double datum = 6.768160562;
    return (t * t * t / 3 - (13 + datum) * t * t / 2 + 13 * datum * t) / 2;
  }

  @Test
  void stagesAfterTheRecordAreNotGuessed() throws InvalidMaterial {
    CureAnswer answer = CureRecord.answer(material(false), RESIN, 1.5, readings(0, 20, 4, 20));
    Band gel = answer.stages().get(1).fromMinutes();
    assertEquals(20, gel.p50(), 0.1);
    StageTime demold =
        answer.stages().stream().filter(s -> s.stage() == Stage.DEMOLD).findFirst().orElseThrow();
    assertTrue(Double.isInfinite(demold.fromMinutes().p10()));
    assertEquals(4, answer.equivalentHours(), 1e-9);
    assertEquals(StageTime.Progress.NOT_YET, demold.at(answer.endMinutes()));
  }

  @Test
  void aPartThatCarriesLoadTakesNoCreditInTheCold() throws InvalidMaterial {
    List<TemperaturePoint> cold = readings(0, 14, 48, 14);
    CureAnswer light = CureRecord.answer(material(false), RESIN, 1.5, cold);
    CureAnswer loaded = CureRecord.answer(material(true), RESIN, 1.5, cold);
    assertEquals(48 * (14 - 6.768160562) / 2, light.degreeHours(), 1e-6);
    assertEquals(0, loaded.degreeHours());
    assertTrue(loaded.equivalentHours() > 25, "equivalent hours count cold hours in full");
  }

  @Test
  void anyRecordIsAnsweredWithWarnings() throws InvalidMaterial {
    CureAnswer answer =
        CureRecord.answer(material(false), RESIN, 3.5, readings(0, 5, 10, 60, 20, 5));
    assertTrue(answer.refused().isEmpty());
    assertEquals(
        List.of("doseByWeightPct", "temperatureC", "temperatureC", "time"),
        answer.warnings().stream().map(Warning::field).toList());
  }

  @Test
  void nonsenseIsRefusedWithTheReason() throws InvalidMaterial {
    CureAnswer answer = CureRecord.answer(material(false), RESIN, 0, readings(1, 20));
    assertEquals(2, answer.refused().size());
    CureAnswer unsorted =
        CureRecord.answer(material(false), RESIN, 1.5, readings(1, 20, 3, 20, 2, 20));
    assertEquals("time", unsorted.refused().get(0).field());
  }
}
