package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.layroom.dashboard.app.Demo;
import org.layroom.dashboard.app.StartFailure;

/** A whole part in a real browser, from starting it to its record, by what a person taps. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class JobPageIT {
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

  private void start(String part) {
    browser.press("Start a part");
    browser.type("Part", part);
    browser.press("one wax coat fewer");
    browser.press("Start");
    browser.awaitText("#jobs .job", part);
  }

  private void mix(String next) {
    browser.awaitText("#jobs .next", "Next: " + next);
    browser.press("Mix for " + next);
    browser.type("Amount, ml", "200");
    browser.awaitText("#mix .dose", "Catalyst");
  }

  /** Fan and respirator are asked for at the first cup; at this pace an hour soon passes. */
  private void mixedNow() {
    browser.script(
        "document.querySelectorAll('#mix .go fieldset input').forEach(one => one.checked ||"
            + " one.click())");
    browser.pressHavingRead("Mixed now");
    browser.awaitText("#jobs .job", "It gelled");
  }

  @ParameterizedTest
  @CsvSource({"1280, 800, false", "360, 740, true"})
  void aPartGoesFromItsStartToItsRecord(int width, int height, boolean dark) throws Exception {
    String size = width > 1000 ? "wide" : "phone";
    browser.show(width, height, dark);
    try (Demo demo = demo(60)) {
      open(demo, "jobs");
      start("hatch");
      browser.press("Applied");
      browser.awaitText("#notices", "Wax coat applied at");
      browser.press("Dry");
      browser.press("Applied");
      browser.press("Dry");
      mix("gel coat");
      browser.picture("mix-" + size);
      mixedNow();
      browser.type("Wet film gauge, mm", "0.45");
      browser.press("Save");
      browser.awaitText("#jobs .steps", "0.45 mm");
      browser.press("Laid up");
      mix("layer 1");
      mixedNow();
      browser.picture("parts-" + size);
      browser.awaitText("#jobs .cups-running li:last-child b", "ago");
      browser.pressFirst("#jobs .cups-running li:last-child button");
      browser.press("Laid up");
      browser.awaitText("#jobs .next", "Next: layer 2");
      browser.press("Skip step");
      browser.awaitText("#jobs .next", "Next: trim");
      browser.press("Skip step");
      browser.tick("a fingernail leaves no mark on the flange");
      browser.tick("a tap sounds hard");
      browser.tick("no give under the thumb");
      browser.press("Save the check");
      browser.press("Came out fine");
      browser.awaitText("#jobs", "No part is in progress");
      assertEquals(List.of(), browser.consoleErrors());
      open(demo, "log");
      browser.awaitText("#log", "hatch");
      browser.pressFirst("#log .log a");
      browser.awaitText("#log", "Entries");
      browser.awaitText("#log", "Mixed for gel coat");
      browser.press("tacky surface");
      browser.awaitText("#log .why", "Unwaxed resin stays tacky in air");
      browser.picture("record-" + size);
      assertEquals(List.of(), browser.axeViolations());
      assertEquals(List.of(), browser.consoleErrors());
      open(demo, "cans/gp-resin");
      browser.awaitText("#cans", "tested once with your can");
      assertEquals(List.of(), browser.consoleErrors());
    }
  }

  @Test
  void everyScreenIsAccessibleAndLargeEnoughInBothSizesAndSchemes() throws Exception {
    try (Demo demo = demo(60)) {
      browser.show(1280, 800, false);
      open(demo, "jobs");
      start("fender");
      for (int[] size : new int[][] {{1280, 800}, {360, 740}}) {
        for (boolean dark : new boolean[] {false, true}) {
          browser.show(size[0], size[1], dark);
          open(demo, "mix");
          for (String screen : List.of("mix", "air", "jobs", "log", "cans", "cans/gp-resin")) {
            browser.go(demo.page().web().uri() + "#" + screen);
            browser.awaitText("#" + screen.replaceAll("/.*", "") + " h2", "");
            String where = screen + " " + size[0] + (dark ? " dark" : " light");
            assertEquals(List.of(), browser.axeViolations(), where);
            assertEquals(
                true,
                browser.script(
                    "return document.documentElement.scrollWidth <="
                        + " document.documentElement.clientWidth"),
                where + ": nothing sticks out sideways");
            assertEquals(List.of(), browser.tooSmall(), where);
            browser.picture(screen.replace('/', '-') + "-" + size[0] + (dark ? "-dark" : "-light"));
          }
        }
      }
    }
  }

  @Test
  void theScreensWorkWithTheKeyboardAlone() throws Exception {
    browser.show(1280, 800, false);
    try (Demo demo = demo(60)) {
      open(demo, "mix");
      browser.awaitText("#mix", "Enter an amount");
      browser.focus("Amount, ml");
      browser.keys("200");
      browser.awaitText("#mix .dose", "Catalyst");
      assertTrue(browser.tabTo("Room", 60), "the way to another screen is reached by tab");
      browser.keys("\n");
      browser.awaitText("#verdict .words", "");
      assertEquals("#room", browser.script("return location.hash"));
      open(demo, "jobs");
      enter("Start a part", "\n");
      enter("Part", "hatch");
      enter("Start", "\n");
      browser.awaitText("#jobs .next", "Next: wax coat");
      enter("Applied", "\n");
      browser.awaitText("#jobs .next", "Let it dry");
      enter("More: note, undo, add a layer, cancel", "\n");
      enter("Note", "two drops on the flange");
      enter("Save", "\n");
      enter("Undo last", "\n");
      enter("Job sheet", "\n");
      browser.awaitText("#log .events .undone", "two drops on the flange");
      assertEquals(List.of(), browser.consoleErrors());
    }
  }

  private void enter(String name, String keys) {
    assertTrue(browser.tabTo(name, 80), name + " is reached by tab");
    browser.keys(keys);
  }

  @Test
  void anotherTabletsTapIsSeenAndNothingIsDoneTwice() throws Exception {
    browser.show(1280, 800, false);
    try (Demo demo = demo(60);
        Browser second = Browser.open()) {
      second.show(360, 740, false);
      open(demo, "jobs");
      start("fender");
      second.go(demo.page().web().uri() + "#jobs");
      second.awaitText("#jobs .next", "Next: wax coat");
      browser.press("Applied");
      second.awaitText("#jobs .next", "Let it dry");
      browser.awaitText("#jobs .next", "Let it dry");
    }
  }
}
