package org.layroom.predictor.mix;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.function.DoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.layroom.predictor.cure.Band;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialDraft;

/** Each stated range holds up to its ends and not beyond. */
class MixLimitsTest {
  private static void range(DoubleFunction<?> make, double min, double max) {
    assertDoesNotThrow(() -> make.apply(min));
    assertDoesNotThrow(() -> make.apply(max));
    assertThrows(IllegalArgumentException.class, () -> make.apply(min - 0.001 * (1 + min)));
    assertThrows(IllegalArgumentException.class, () -> make.apply(max * 1.001 + 0.001));
    assertThrows(IllegalArgumentException.class, () -> make.apply(Double.NaN));
  }

  private static LayupQuantities.Layup layup(int place, double value) {
    double[] v = {1, 0.5, 1.25, 450, 2, 2.5, 0};
    v[place] = value;
    return new LayupQuantities.Layup(v[0], v[1], v[2], v[3], (int) Math.ceil(v[4]), v[5], v[6]);
  }

  @Test
  void rangesAreAsStated() {
    range(Amount.Grams::new, 1, 1e6);
    range(Amount.Milliliters::new, 1, 1e6);
    range(mark -> new ShopTools(mark, 100, 1000), 0.01, 5);
    range(pace -> new ShopTools(0.1, pace, 1000), 1, 5000);
    range(cup -> new ShopTools(0.1, 100, cup), 20, 20_000);
    range(v -> layup(0, v), 0.001, 1000);
    range(v -> layup(1, v), 0, 2);
    range(v -> layup(2, v), 0.9, 2);
    range(v -> layup(3, v), 50, 2000);
    range(v -> layup(5, v), 1, 5);
    range(v -> layup(6, v), 0, 100);
    assertDoesNotThrow(() -> layup(4, 50));
    assertThrows(IllegalArgumentException.class, () -> layup(4, 51));
    assertDoesNotThrow(() -> layup(4, 0));
    assertThrows(IllegalArgumentException.class, () -> layup(4, -1));
    assertDoesNotThrow(() -> AgedTemperature.typed(-40));
    assertDoesNotThrow(() -> AgedTemperature.typed(60));
    assertThrows(IllegalArgumentException.class, () -> AgedTemperature.typed(-40.1));
    assertThrows(IllegalArgumentException.class, () -> AgedTemperature.typed(60.1));
    assertDoesNotThrow(() -> new Pass(Pass.Place.NOT_SAID, 50));
    assertThrows(IllegalArgumentException.class, () -> new Pass(Pass.Place.NOT_SAID, 51));
  }

  @Test
  void aWantIsAboveZero() {
    List<DoubleFunction<DoseRequest>> wants =
        List.of(
            DoseRequest.WorkingTime::new,
            DoseRequest.ByWeight::new,
            DoseRequest.MlPerKg::new,
            DoseRequest.MlPer100Ml::new,
            DoseRequest.Drops::new);
    for (DoubleFunction<DoseRequest> want : wants) {
      assertThrows(IllegalArgumentException.class, () -> want.apply(0));
      assertThrows(IllegalArgumentException.class, () -> want.apply(-1));
      assertDoesNotThrow(() -> want.apply(1));
    }
  }

  // Wet film 0.30-0.61 mm, mat next to gel coat up to 450 g/m2 (1.5 oz/ft2 = 457.7), resin to glass
  // 2 to 2.5: gel coat guides and classification rules. Four layers in a pass: a handbook; whether
  // they get too hot is judged by the peak.
  @ParameterizedTest
  @CsvSource({
    "0.3,457.7,2,4,0,1",
    "0.61,450,2.5,4,0,1",
    "0.299,450,2,4,1,1",
    "0.611,450,2,4,1,1",
    "0,600,2,4,0,1",
    "0.5,461,2,4,1,1",
    "0.5,461,2,0,0,0",
    "0.5,450,1.99,4,1,1",
    "0.5,450,2.51,4,1,1",
    "0.5,450,2,5,0,2",
    "0.5,450,2,8,0,2",
    "0.5,450,2,9,0,3"
  })
  void aLayupIsWarnedOfBeyondItsLimitsOnly(
      double filmMm, double matGPerM2, double resinToGlass, int layers, int warnings, int passes) {
    LayupQuantities quantities =
        LayupQuantities.of(
            new LayupQuantities.Layup(2, filmMm, 1.25, matGPerM2, layers, resinToGlass, 20));
    assertEquals(warnings, quantities.warnings().size(), () -> quantities.warnings().toString());
    assertEquals(passes, quantities.passes());
    assertEquals(2 * layers * matGPerM2 * 1.2, quantities.matGrams(), 1e-6);
    assertEquals(2 * filmMm * 1250 * 1.2, quantities.gelCoatGrams(), 1e-6);
  }

  private static MixQuestion question(double densityKgPerL, double catalystKgPerL)
      throws InvalidMaterial {
    MaterialDraft draft =
        new MaterialDraft()
            .id("shop-can")
            .name("Shop can")
            .kind("laminating-resin")
            .gel(20, 20, 1.5)
            .doseByWeightPct(1, 2.5);
    if (densityKgPerL > 0) {
      draft.densityKgPerL(densityKgPerL);
    }
    if (catalystKgPerL > 0) {
      draft.catalystDensityKgPerL(catalystKgPerL);
    }
    Material can = draft.build();
    return MixQuestion.of(can, new Amount.Milliliters(200))
        .at(
            MixTemperatures.unknown()
                .withMold(AgedTemperature.typed(20))
                .withResin(AgedTemperature.typed(20)));
  }

  // At the reference point the logarithm's variance is 0.40^2 (can) + 0.0756^2 (1 K) + 0.040^2 (5 %
  // dose); an unknown catalyst density adds (0.8 ln(1.18/1.017)/2)^2, an unknown can (0.8 x 3 %)^2.
  @ParameterizedTest
  @CsvSource({"1.12,1.18,0,0", "0,1.18,0,0.03", "1.12,0,0.0743,0", "0,0,0.0743,0.03"})
  void theBandIsAsWideAsWhatIsNotKnown(
      double density, double catalyst, double catalystSd, double densitySd) throws InvalidMaterial {
    Band gel =
        question(density, catalyst)
            .wanting(new DoseRequest.ByWeight(100 * 3.4 / 224))
            .answer()
            .gelMinutes()
            .orElseThrow();
    double dose = 0.8 * Math.sqrt(0.05 * 0.05 + catalystSd * catalystSd + densitySd * densitySd);
    double sd = Math.sqrt(0.16 + 0.07557 * 0.07557 + dose * dose);
    assertEquals(2 * 1.281552 * sd, Math.log(gel.p90() / gel.p10()), 0.0005);
  }

  @Test
  void theLimitsThemselvesAreStillAllowed() throws InvalidMaterial {
    MixQuestion question = question(1.12, 1.18);
    for (double tempC : new double[] {15, 35}) {
      MixAnswer answer =
          question
              .at(
                  MixTemperatures.unknown()
                      .withMold(AgedTemperature.typed(tempC))
                      .withResin(AgedTemperature.typed(tempC)))
              .wanting(new DoseRequest.ByWeight(1))
              .answer();
      assertTrue(answer.dose().isPresent(), () -> answer.refused().toString());
    }
    MixAnswer atTen =
        question
            .at(
                MixTemperatures.unknown()
                    .withMold(AgedTemperature.typed(10))
                    .withResin(AgedTemperature.typed(10)))
            .answer();
    assertTrue(atTen.gelMinutes().isPresent(), "at 10 degC the gel time is still shown");
    assertTrue(
        question.wanting(new DoseRequest.ByWeight(1)).answer().warnings().stream()
            .map(Warning::field)
            .noneMatch("dose"::equals));
  }
}
