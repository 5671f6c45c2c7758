package org.layroom.predictor.material;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.layroom.predictor.hardening.Hardening;

/** What a material file may say, and how its mistakes are reported. */
class MaterialTest {
  private static MaterialDraft resin() {
    return new MaterialDraft()
        .id("gp-resin")
        .name("General-purpose laminating resin")
        .kind("laminating-resin")
        .gel(20, 20, 1.5)
        .doseByWeightPct(1.0, 2.5);
  }

  private static List<String> fields(MaterialDraft draft) {
    InvalidMaterial refusal = assertThrows(InvalidMaterial.class, draft::build);
    return refusal.problems().stream().map(MaterialProblem::field).toList();
  }

  @Test
  void whatTheFileLeavesOutIsTypical() throws InvalidMaterial {
    Material material = resin().build();
    assertEquals(54, material.activationEnergyKJPerMolOrTypical());
    assertEquals(0.8, material.doseExponentOrTypical());
    assertEquals(1.12, material.densityKgPerLOrTypical());
    assertEquals(1.18, material.catalystDensityKgPerLOrTypical());
    assertEquals(Hardening.typical(), material.hardening());
    assertTrue(material.densityKgPerL().isEmpty());
  }

  // A classification society's workmanship rules: 48 h at 18 degC or more, 41.2237 h at 20 °C.
  @Test
  void aPartThatCarriesLoadStaysInTheMoldAtLeastAsLongAsTheRulesSay() throws InvalidMaterial {
    assertEquals(41.2237, Hardening.STRUCTURAL_HOURS_AT_20C);
    Hardening structural = resin().structural(true).demoldHoursAt20C(60).build().hardening();
    assertTrue(structural.structural());
    assertEquals(OptionalDouble.of(60), structural.claimedHoursAt20C());
  }

  @Test
  void allMistakesOfAFileAreReportedTogether() {
    MaterialDraft draft =
        new MaterialDraft()
            .id("GP Resin")
            .name("")
            .kind("paste")
            .gel(0, 20, 1.5)
            .activationEnergyKJPerMol(5)
            .densityKgPerL(1120);
    assertEquals(
        List.of(
            "kind",
            "gel",
            "doseByWeightPct",
            "id",
            "name",
            "activationEnergyKJPerMol",
            "densityKgPerL"),
        fields(draft));
  }

  @Test
  void aMistakeSaysValueAndLimit() {
    InvalidMaterial refusal = assertThrows(InvalidMaterial.class, resin().doseExponent(9)::build);
    MaterialProblem problem = refusal.problems().get(0);
    assertEquals("9", problem.value());
    assertEquals("0.3 to 1.5", problem.limit());
    assertTrue(problem.reason().contains("doseExponent: 9"), problem.reason());
  }

  @Test
  void aCanThatAllowsMoreThanThreePercentIsRefused() {
    assertEquals(List.of("doseByWeightPct.max"), fields(resin().doseByWeightPct(1, 4)));
    assertEquals(List.of("doseByWeightPct"), fields(resin().doseByWeightPct(2, 1)));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"Vinyl ester resin", "VINYLESTER 411", "Resin for BPO", "Heat-cured tooling gel"})
  void otherSystemsAreRefusedByName(String name) {
    assertEquals(List.of("name"), fields(resin().name(name)));
    assertEquals(List.of("system"), fields(resin().system(name)));
  }

  @Test
  void aTableOfGelTimesStandsInForTheGelPoint() throws InvalidMaterial {
    Material material =
        new MaterialDraft()
            .id("iso")
            .name("Iso resin")
            .kind("laminating-resin")
            .gelRow(25, 1.5, 15)
            .gelRow(20, 1.5, 21)
            .doseByWeightPct(1, 2)
            .build();
    assertEquals(new GelPoint(15, 25, 1.5), material.gel());
    assertEquals(2, material.gelTable().size());
    assertEquals(
        List.of("gelTable[1].temperatureC"), fields(resin().gelRow(20, 1, 20).gelRow(60, 1, 5)));
    assertEquals(
        List.of("gel"),
        fields(new MaterialDraft().id("a").name("b").kind("gel-coat").doseByWeightPct(1, 2)));
  }

  @Test
  void aMaterialMadeDirectlyIsCheckedToo() throws InvalidMaterial {
    Material good = resin().build();
    IllegalArgumentException refusal =
        assertThrows(
            IllegalArgumentException.class,
            () ->
                new Material(
                    good.id(),
                    good.name(),
                    good.kind(),
                    new GelPoint(1, 20, 1.5),
                    List.of(),
                    good.activationEnergyKJPerMol(),
                    good.doseExponent(),
                    good.doseByWeightPct(),
                    good.temperatureC(),
                    good.densityKgPerL(),
                    good.catalystDensityKgPerL(),
                    good.demoldHoursAt20C(),
                    false,
                    false,
                    good.styrenePct(),
                    good.peakToGel()));
    assertTrue(String.valueOf(refusal.getMessage()).contains("gel.minutes: 1 min"));
  }
}
