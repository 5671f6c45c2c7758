package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.layroom.dashboard.app.Demo;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.device.demo.DemoSensor;

/**
 * What a person meets first: the set-up that ends in a working check, their own units, a page made
 * larger, and a mix whose sensors are away.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class FirstStartIT {
  private static final List<String> SCREENS = List.of("room", "mix", "air", "jobs", "log", "cans");

  /** What is there once a screen is whole, where that is more than its heading. */
  private static final Map<String, List<String>> TITLES =
      Map.of("room", List.of("#cap-vapor b", "#plan-title"));

  private final Browser browser = Browser.open();

  @AfterAll
  void closeBrowser() {
    browser.close();
  }

  private static Demo demo(double speed) throws StartFailure, IOException {
    return Demo.start(speed, 0, Optional.empty(), ZoneId.of("UTC"));
  }

  private void open(Demo demo, String screen) {
    browser.openScreen(demo.page().web().uri(), screen);
  }

  /** Ten taps; the demo's shop has its sensors and its clean-air reading already. */
  @Test
  void theFirstStepsLeadFromScreenToScreenToAWorkingCheck() throws Exception {
    browser.show(360, 740, false);
    try (Demo demo = demo(60)) {
      open(demo, "room");
      browser.awaitText("#first", "Read the cautions");
      browser.awaitText("#first .steps li:nth-child(3)", "done");
      browser.picture("first-steps");
      browser.press("Set up");
      browser.awaitText("#first", "First steps, 1 of 6");
      assertEquals(
          0L, browser.script("return Math.round(scrollY)"), "the screen begins at its top");
      browser.press("I have read this");
      browser.awaitText("#first", "Room size");
      browser.press("Show");
      browser.type("Room, m³", "6 x 6 x 2,5");
      browser.picture("first-steps-air");
      browser.press("Save");
      browser.awaitText("#first", "Your material");
      browser.press("Next step");
      browser.awaitText("#first", "General-purpose ortho laminating resin");
      assertEquals(List.of(), browser.axeViolations());
      assertEquals(List.of(), browser.tooSmall());
      browser.press("Use this material");
      browser.press("Room");
      browser.awaitText("#verdict .words", "Ready to mix");
      assertEquals("", browser.text("#first"), "the first steps have gone");
      open(demo, "air");
      browser.press("Vapor sensor and limit");
      browser.awaitValue("#air-volume", "90");
      assertEquals(List.of(), browser.consoleErrors());
    }
  }

  /** 15 and 18 degC are 59 and 64.4 degF; 1 US fluid ounce is 29.57 ml (NIST SP 811, B.8). */
  @Test
  void aPersonWithUsUnitsReadsThemEverywhere() throws Exception {
    browser.show(1280, 800, false);
    try (Demo demo = demo(60)) {
      open(demo, "cans");
      browser.tick("US (°F, oz, fl oz)");
      browser.press("Room");
      browser.awaitText("#sentences", "°F");
      browser.awaitText("#cap-temperature", "°F");
      browser.awaitText("#parts", "°F");
      browser.awaitText("#strip-ahead", "°F");
      browser.press("All reasons");
      browser.picture("us-units");
      assertEquals(
          List.of(),
          browser.script(
              "return document.body.innerText.match(/[^\\n]*\\d (?:°C|K)\\b[^\\n]*/g) ?? []"));
      browser.press("Mix");
      browser.type("Amount, fl oz", "10");
      browser.awaitText("#mix .dose", "10.00 fl oz");
      demo.device().makeColdAndDamp();
      browser.awaitText("#mix", "limit 59 °F");
      assertEquals(List.of(), browser.consoleErrors());
    }
  }

  /** Twice as large as on a wide screen (WCAG 2.2, 1.4.4), and 320 pixels wide (1.4.10, reflow). */
  @Test
  void aLargerPageNeverHasToBeScrolledSideways() throws Exception {
    try (Demo demo = demo(60)) {
      for (double factor : new double[] {2, 4}) {
        browser.zoom(1280, 1024, factor);
        for (String screen : SCREENS) {
          open(demo, screen);
          for (String title : TITLES.getOrDefault(screen, List.of("#" + screen + " h2"))) {
            browser.awaitText(title, "");
          }
          String where = screen + " at " + factor;
          assertEquals(
              true,
              browser.script(
                  "return document.documentElement.scrollWidth <="
                      + " document.documentElement.clientWidth"),
              where);
          if (factor == 2) {
            assertEquals(List.of(), browser.axeViolations(), where);
          }
          browser.picture("zoom-" + (int) factor + "-" + screen);
        }
      }
    }
  }

  @Test
  void aMixWithoutSensorsAsksForTypedTemperaturesAndTellsSo() throws Exception {
    browser.show(1280, 800, false);
    try (Demo demo = demo(60)) {
      open(demo, "mix");
      browser.type("Amount, ml", "200");
      browser.awaitText("#mix .dose", "Catalyst");
      browser.awaitText("#mix", "Measured: ");
      demo.device().unplug(DemoSensor.MOLD);
      demo.device().unplug(DemoSensor.RESIN);
      browser.awaitText("#mix", "No mold or resin temperature. Measure the mold surface");
      assertTrue(
          (Boolean) browser.script("return document.querySelector('#mix .typed').open"),
          "the fields to type into are in sight");
      browser.type("Mold, °C", "21");
      browser.awaitText("#mix .dose", "Catalyst");
      browser.awaitText("#mix", "Temperatures entered by hand: mold 21.0 °C");
      browser.picture("mix-typed");
      assertEquals(List.of(), browser.consoleErrors());
    }
  }
}
