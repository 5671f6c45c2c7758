package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.net.URI;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.layroom.dashboard.app.Demo;

/** A bump test in a real browser: one tap, the demo's own swab, the result in words. */
class BumpTestPageIT {
  private final Browser browser = Browser.open();

  @AfterEach
  void closeBrowser() {
    browser.close();
  }

  @Test
  void aBumpTestIsBegunPassedAndAnswered() throws Exception {
    browser.show(360, 740, false);
    try (Demo demo = Demo.start(20, 0, Optional.empty(), ZoneId.of("UTC"))) {
      URI page = demo.page().web().uri();
      browser.go(page + "#air");
      browser.awaitAttribute("#link", "data-state", "here");
      browser.awaitText("#air .air-state", "No rise seen");
      browser.press("Bump test");
      browser.awaitText("#air-bump", "3 drops (0.1 ml) of acetone");
      browser.awaitText("#air-bump", "No lighter gas, no flame, no silicone");
      browser.awaitText("#air-bump", "no bump test yet");
      assertEquals(List.of(), browser.axeViolations());
      browser.press("Begin bump test");
      browser.awaitText("#air-bump .bump-now", "Passed: from");
      browser.awaitText("#air .air-state", "Ventilate");
      browser.press("Lamp, buzzer and fan came on");
      browser.awaitText("#air-bump .bump-now", "Lamp, buzzer and fan came on.");
      browser.awaitText("#air-bump", "last bump test");
      browser.picture("bump-test-narrow");
      assertEquals(List.of(), browser.consoleErrors());
      Typed typed = Typed.run("bump-test --url " + page);
      assertTrue(typed.out().contains("Passed: from"), typed.toString());
    }
  }
}
