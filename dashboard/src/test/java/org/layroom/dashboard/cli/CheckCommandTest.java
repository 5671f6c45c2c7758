package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code layroom check} with typed conditions: words, JSON and exit status. */
class CheckCommandTest {
  private static JsonNode json(Typed typed) throws Exception {
    return JsonMapper.builder().build().readTree(typed.out());
  }

  @Test
  void aWarmDryRoomWithoutVaporSensorIsUnknownBecauseNobodyKnowsTheAir() throws Exception {
    Typed typed =
        Typed.run("check --json --material gp-resin --air-temp 19C --humidity 62% --mold-temp 18C");
    assertEquals(0, typed.status());
    assertEquals("unknown", json(typed).path("verdict").asText());
    assertTrue(json(typed).path("refused").isEmpty());
    assertTrue(json(typed).path("warnings").isArray());
  }

  @Test
  void dewPointAgreesWithTheAshraeTable() throws Exception {
    // ASHRAE psychrometric values (ideal gas): 25 degC, 60 %RH: dew point 16.7011 degC. Magnus
    // agrees within 0.05 K.
    Typed typed = Typed.run("check --json --air-temp 25C --humidity 60% --mold-temp 24C");
    assertEquals(16.7011, json(typed).path("dewPointC").asDouble(), 0.05);
    assertEquals(24 - 16.7011, json(typed).path("dewPointMarginK").asDouble(), 0.05);
  }

  @Test
  void aColdMoldIsNoWithTheReasonInWords() throws Exception {
    Typed typed =
        Typed.run("check --material gp-resin --mold-temp 8C --air-temp 9C --humidity 60%");
    assertEquals(0, typed.status());
    assertTrue(typed.out().startsWith("Don't mix yet"), typed.out());
    assertTrue(typed.out().contains("8.0 °C"), typed.out());
    assertTrue(typed.out().contains("10 °C"), typed.out());
  }

  @Test
  void dampAirIsAReasonToWait() throws Exception {
    Typed typed = Typed.run("check --json --mold-temp 20C --air-temp 20C --humidity 84%");
    assertEquals("wait", json(typed).path("verdict").asText());
  }

  @Test
  void fahrenheitIsUnderstood() throws Exception {
    // 68 degF is 20 degC exactly (definition of the degree Fahrenheit).
    Typed typed = Typed.run("check --json --air-temp 68F --humidity 50% --mold-temp 68F");
    JsonNode celsius =
        json(Typed.run("check --json --air-temp 20C --humidity 50% --mold-temp 20C"));
    assertEquals(celsius, json(typed));
  }

  @Test
  void inputThatCannotBeUsedIsRefusedInWordsAndAsJson() throws Exception {
    Typed unit = Typed.run("check --json --mold-temp 18K");
    assertEquals(2, unit.status());
    assertEquals("mold-temp", json(unit).path("refused").path(0).path("field").asText());
    assertTrue(unit.err().contains("18C or 64F"), unit.err());
    Typed range = Typed.run("check --json --mold-temp 180C");
    assertEquals(2, range.status());
    assertTrue(json(range).path("refused").path(0).path("reason").asText().contains("-40 and 125"));
    Typed material = Typed.run("check --material epoxy --mold-temp 18C");
    assertEquals(2, material.status());
    assertTrue(material.err().contains("gp-resin"), material.err());
    assertEquals("", material.out());
  }

  @Test
  void aBadMaterialFileIsNamedFieldByField(@TempDir Path folder) throws Exception {
    Path file = folder.resolve("can.json");
    Files.writeString(file, "{\"id\":\"My Can\"}");
    Typed typed = Typed.run("check --json --mold-temp 18C --material-file " + file);
    assertEquals(2, typed.status());
    assertTrue(json(typed).path("refused").size() >= 3, typed.out());
  }

  @Test
  void withoutARunningDashboardARoomCannotAnswer() {
    Typed typed = Typed.run("check --room shop --url http://localhost:1/");
    assertEquals(1, typed.status());
    assertTrue(typed.err().contains("layroom serve"), typed.err());
  }
}
