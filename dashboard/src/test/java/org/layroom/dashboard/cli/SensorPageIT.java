package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.layroom.dashboard.app.Demo;

/** A sensor is compared with a reference in a real browser, corrected, and left alone again. */
class SensorPageIT {
  private final Browser browser = Browser.open();

  @AfterEach
  void closeBrowser() {
    browser.close();
  }

  @Test
  void aSensorIsCorrectedAndTheCorrectionTakenAway() throws Exception {
    browser.show(1280, 800, false);
    try (Demo demo = Demo.start(20, 0, Optional.empty(), ZoneId.of("UTC"))) {
      browser.go(demo.page().web().uri() + "#air");
      browser.awaitAttribute("#link", "data-state", "here");
      browser.press("Correct a sensor");
      browser.awaitText(".sensors", "bench reads");
      browser.awaitText(".sensors", "No correction");
      browser.type("The reference reads, %", "1");
      browser.press("Correct");
      browser.awaitText("#air", "faulty or in another place");
      browser.consoleErrors(); // the browser itself logs the refusal
      browser.type("Sensor", "resin-temperature");
      Object reads =
          browser.script(
              "return document.querySelector('.sensors').textContent.match(/reads ([-0-9.]+)/)[1]");
      browser.type("The reference reads, °C", "" + (Double.parseDouble("" + reads) + 1));
      browser.press("Correct");
      browser.awaitText(".sensors .said", "resin-temperature of bench is corrected by ");
      browser.picture("sensor-wide");
      assertEquals(List.of(), browser.axeViolations());
      browser.press("Clear correction");
      browser.awaitText(".sensors .said", "resin-temperature of bench is no longer corrected.");
      browser.awaitText(".sensors", "No correction.");
      assertEquals(List.of(), browser.consoleErrors());
    }
  }
}
