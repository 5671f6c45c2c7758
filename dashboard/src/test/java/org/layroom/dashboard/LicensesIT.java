package org.layroom.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/**
 * The bill of materials (CycloneDX, {@code target/bom.json} of the whole build) by its licenses.
 * One of several offered is enough.
 */
class LicensesIT {
  private static final Path BILL = Path.of("..", "target", "bom.json");

  /** Permissive ones, and the Eclipse license, which asks for nothing of what is linked with it. */
  private static final Set<String> GOOD =
      Set.of("Apache-2.0", "MIT", "BSD-2-Clause", "BSD-3-Clause", "EPL-2.0", "CC0-1.0", "MIT-0");

  @Test
  void everyLibraryHasALicenseThatLayroomCanBeGivenAwayWith() throws IOException {
    if (!Files.exists(BILL) && System.getenv("CI") != null) {
      fail("there is no bill of materials: build the whole of it with mvn verify");
    }
    assumeTrue(Files.exists(BILL), "no bill of materials: it is made with the whole build");
    JsonNode components = JsonMapper.builder().build().readTree(BILL.toFile()).path("components");
    Set<String> doubtful = new TreeSet<>();
    for (JsonNode one : components) {
      if (!isGood(one)) {
        doubtful.add(one.path("purl").asText() + " " + one.path("licenses"));
      }
    }
    assertEquals(Set.of(), doubtful);
    assertTrue(components.size() > 30, "libraries: " + components.size());
  }

  private static boolean isGood(JsonNode component) {
    for (JsonNode license : component.path("licenses")) {
      if (GOOD.contains(license.at("/license/id").asText())) {
        return true;
      }
    }
    return false;
  }
}
