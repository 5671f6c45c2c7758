package org.layroom.dashboard.material;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;
import org.layroom.predictor.material.MaterialProblem;

/** A can's file is read whole or refused with every reason; the presets are typical cans. */
class MaterialFileTest {
  private static final String FILE =
      """
      {"id":"my-resin","name":"My resin","kind":"laminating-resin",
       "gel":{"minutes":20,"temperatureC":20,"doseByWeightPct":1.5},"activationEnergyKJPerMol":54,"doseExponent":0.9,
       "doseByWeightPct":{"min":1.0,"max":2.5},"temperatureC":{"min":15,"max":35},"densityKgPerL":1.12,"catalystDensityKgPerL":1.18,
       "demoldHoursAt20C":24,"structural":false,"waxed":false,"styrenePct":42}
      """;

  private static Material read(String text) throws InvalidMaterial {
    return MaterialFile.read(text.getBytes(StandardCharsets.UTF_8));
  }

  private static List<MaterialProblem> problems(String text) {
    return assertThrows(InvalidMaterial.class, () -> read(text)).problems();
  }

  private static List<String> fields(String text) {
    return problems(text).stream().map(MaterialProblem::field).toList();
  }

  @Test
  void everyFieldOfTheFileArrives() throws InvalidMaterial {
    Material material = read(FILE);
    assertEquals("my-resin", material.id());
    assertEquals(MaterialKind.LAMINATING_RESIN, material.kind());
    assertEquals(20, material.gel().minutes());
    assertEquals(1.5, material.gel().doseByWeightPct());
    assertEquals(54, material.activationEnergyKJPerMol().orElseThrow());
    assertEquals(2.5, material.doseByWeightPct().max());
    assertEquals(15, material.temperatureC().orElseThrow().min());
    assertEquals(1.18, material.catalystDensityKgPerL().orElseThrow());
    assertEquals(42, material.styrenePct().orElseThrow());
  }

  /** Its refusal reaches the sender as one of the field, which must have a name. */
  @Test
  void aFieldWithoutANameIsRefusedByWhatStandsThere() {
    assertEquals(List.of("\"\""), fields(FILE.replace("{\"id\"", "{\"\":1,\"id\"")));
    assertEquals(List.of("\" \""), fields(FILE.replace("{\"id\"", "{\" \":1,\"id\"")));
  }

  @Test
  void aMisspelledFieldIsNotOverlooked() {
    assertEquals(List.of("denstyKgPerL"), fields(FILE.replace("densityKgPerL", "denstyKgPerL")));
  }

  @Test
  void allProblemsAreNamedAtOnce() {
    List<String> fields =
        fields(
            FILE.replace("\"minutes\":20", "\"minutes\":\"20 min\"")
                .replace("\"densityKgPerL\":1.12", "\"densityKgPerL\":1120")
                .replace("\"waxed\":false", "\"waxed\":\"no\"")
                .replace("laminating-resin", "resin"));
    assertTrue(fields.contains("gel.minutes"), fields.toString());
    assertTrue(fields.contains("densityKgPerL"), fields.toString());
    assertTrue(fields.contains("waxed"), fields.toString());
    assertTrue(fields.contains("kind"), fields.toString());
  }

  @Test
  void anotherResinSystemIsRefused() {
    String text = FILE.replace("\"kind\"", "\"system\":\"vinyl ester\",\"kind\"");
    assertTrue(fields(text).contains("system"));
  }

  @Test
  void whatIsNoJsonObjectIsRefused() {
    assertEquals(List.of("file"), fields("resin"));
    assertEquals(List.of("file"), fields("[1,2]"));
    assertEquals(List.of("file"), fields(FILE + "x"));
    assertEquals(List.of("file"), fields(FILE.replace("\"name\"", "\"id\"")));
    assertEquals(List.of("file"), fields(" ".repeat(70_000)));
  }

  @Property(tries = 500)
  void anyTextIsReadOrRefusedInWords(@ForAll String text) {
    InvalidMaterial refusal = assertThrows(InvalidMaterial.class, () -> read(text));
    assertTrue(refusal.problems().stream().noneMatch(problem -> problem.reason().isBlank()));
  }

  @Test
  void presetsAreTypicalCansAndSaySo() {
    MaterialShelf shelf = MaterialShelf.presets();
    assertEquals(5, shelf.all().size());
    assertTrue(
        shelf.all().stream()
            .allMatch(entry -> entry.label().contains("typical, not yet tested with your can")));
    assertTrue(shelf.find("finish-coat").orElseThrow().material().waxed());
  }

  @Test
  void aShopsOwnFileStandsBeforeThePreset(@TempDir Path folder) throws Exception {
    Files.writeString(folder.resolve("mine.json"), FILE.replace("my-resin", "gp-resin"));
    MaterialShelf.Entry entry = MaterialShelf.withFolder(folder).find("gp-resin").orElseThrow();
    assertEquals("My resin", entry.label());
  }

  /** One bad file keeps no dashboard from starting, and is said. */
  @Test
  void aFileThatCannotBeUsedIsLeftOutAndToldWithWhy(@TempDir Path folder) throws Exception {
    Files.writeString(folder.resolve("a.json"), FILE);
    Files.writeString(folder.resolve("b.json"), FILE);
    Files.writeString(folder.resolve("c.json"), "no JSON");
    Files.writeString(folder.resolve("d.json"), FILE + " ".repeat(300_000));
    Files.createDirectory(folder.resolve("e.json"));
    MaterialShelf shelf = MaterialShelf.withFolder(folder);
    assertTrue(shelf.find("my-resin").isPresent());
    assertEquals(4, shelf.unusable().size(), shelf.unusable().toString());
    assertTrue(
        shelf.unusable().get(0).contains("b.json") && shelf.unusable().get(0).contains("a.json"));
    assertTrue(shelf.unusable().get(1).contains("not JSON"));
    assertTrue(shelf.unusable().get(2).contains("too large"));
    assertTrue(shelf.unusable().get(3).contains("e.json"));
  }
}
