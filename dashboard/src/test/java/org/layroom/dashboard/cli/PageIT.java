package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.layroom.dashboard.app.Demo;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.demo.DemoSensor;
import org.openqa.selenium.Keys;

/** The page of the demo in a real browser: what a person in the shop would see. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class PageIT {
  private final Browser browser = Browser.open();

  @AfterAll
  void closeBrowser() {
    browser.close();
  }

  private static Demo demo(double speed) throws StartFailure, IOException {
    return Demo.start(speed, 0, Optional.empty(), ZoneId.of("UTC"));
  }

  private void open(Demo demo) {
    browser.leave();
    browser.show(1280, 800, false);
    browser.go(demo.page().web().uri().toString());
  }

  private static String sentence(String about, String part) {
    return "#sentences li[data-about=" + about + "]" + part;
  }

  @Test
  void theSentencesChangeWhenTheRoomGetsColdAndDamp() throws Exception {
    try (Demo demo = demo(300)) {
      open(demo);
      browser.awaitAttribute(sentence("warm", ""), "data-state", "ok");
      browser.awaitAttribute(sentence("dry", ""), "data-state", "ok");
      browser.awaitText(sentence("warm", " .head"), "Warm enough");
      browser.picture("usual");
      demo.device().makeColdAndDamp();
      browser.awaitAttribute(sentence("warm", ""), "data-state", "no");
      browser.awaitAttribute(sentence("dry", ""), "data-state", "wait");
      browser.awaitText("#verdict .words", "Don't mix yet");
      browser.awaitText(sentence("warm", " .head"), "Too cold");
      browser.awaitText(sentence("dry", " .head"), "Damp");
      browser.picture("cold-and-damp");
      assertEquals(List.of(), browser.consoleErrors());
    }
  }

  @Test
  void theStripDrawsTheLastTwoDaysAndGoesOnIntoTheForecast() throws Exception {
    try (Demo demo = demo(1)) {
      open(demo);
      browser.awaitText("#cap-temperature", "°C");
      browser.awaitText("#cap-moisture", "°C");
      browser.awaitText("#cap-vapor", "×");
      // A line across the past inks at least as many points as that is wide: 48 of 84 hours of
      // about 1000 points.
      browser.awaitText("#strip-ahead", "dotted line");
      Until.within(
          Duration.ofSeconds(150),
          "the two days have come in and are drawn",
          () -> browser.text("#strip-note").isEmpty() && inked("temperature", "air") > 450);
      assertTrue(inked("temperature", "mold") > 280, "dashed");
      assertTrue(inked("moisture", "moist") > 450);
      assertTrue(inked("vapor", "vapor") > 450);
      assertEquals("", browser.text("#strip-note"));
    }
  }

  /**
   * A browser makes six connections to one server, and each page in sight holds one for its live
   * events.
   */
  @Test
  void aPageThatWasLeftManyTimesIsThereAgain() throws Exception {
    try (Demo demo = demo(1)) {
      for (int times = 0; times < 10; times++) {
        open(demo);
        browser.awaitAttribute("#link", "data-state", "here");
      }
    }
  }

  private double[] inSight() {
    return new double[] {edge("from"), edge("to")};
  }

  private double edge(String name) {
    return Double.parseDouble(
        browser.script("return document.querySelector('#strip-span').dataset." + name).toString());
  }

  @Test
  void theStripIsDraggedZoomedAndReadWithAndWithoutAPointer() throws Exception {
    try (Demo demo = demo(1)) {
      open(demo);
      browser.awaitText("#strip-ahead", "dotted line");
      double[] whole = inSight();
      browser.drag("#plot-temperature", 0.25);
      double[] dragged = inSight();
      // The plot's time axis is narrower than the plot by its two margins, so that a quarter of
      // the plot is a little more than a quarter of the time.
      double share = (whole[0] - dragged[0]) / (whole[1] - whole[0]);
      assertEquals(0.26, share, 0.03, "a drag to the right goes back in time");
      assertEquals(whole[1] - whole[0], dragged[1] - dragged[0], 120, "and keeps the length");
      browser.press("Zoom in");
      double[] closer = inSight();
      assertEquals((whole[1] - whole[0]) / 2, closer[1] - closer[0], 120);
      browser.press("Back");
      assertEquals(closer[0] - (closer[1] - closer[0]) / 2, inSight()[0], 120);
      browser.pinch("#plot-vapor", 2);
      assertEquals((closer[1] - closer[0]) / 2, inSight()[1] - inSight()[0], 600);
      browser.focus("Read at");
      browser.keys(Keys.chord(Keys.END, Keys.ARROW_LEFT));
      browser.awaitText("#strip-read output", ":");
      browser.awaitText("#cap-temperature", " at ");
      browser.awaitText("#cap-vapor", " at ");
      browser.picture("strip-dragged");
      browser.press("Now");
      assertEquals(whole[0], inSight()[0], 300, "the clock is followed again");
      assertEquals(List.of(), browser.consoleErrors());
    }
  }

  @Test
  void startsAreProposedWithWhatHeatingBuysAndItsCaution() throws Exception {
    try (Demo demo = demo(60)) {
      open(demo);
      browser.awaitText("#plan-answer", "Heating: ");
      browser.awaitText("#plan-answer", "Airing: ");
      browser.awaitText("#plan-answer", "times in 10");
      assertEquals(List.of(), browser.consoleErrors());
    }
  }

  /** How many points of a plot are inked in a line's own color. */
  private long inked(String plot, String line) {
    Object count =
        browser.script(
            "const c = document.querySelector('#plot-"
                + plot
                + " canvas');"
                + "const ink = getComputedStyle(document.documentElement).getPropertyValue('--"
                + line
                + "').trim();"
                + "const rgb = [1, 3, 5].map(i => parseInt(ink.slice(i, i + 2), 16));"
                + "const d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;"
                + "let n = 0; for (let i = 0; i < d.length; i += 4)"
                + " if (d[i + 3] > 200 && rgb.every((v, j) => Math.abs(v - d[i + j]) < 24)) n++;"
                + "return n");
    return (Long) count;
  }

  @Test
  void noAccessibilityRuleIsBrokenInEitherSizeOrScheme() throws Exception {
    try (Demo demo = demo(60)) {
      for (int[] size : new int[][] {{1280, 800}, {360, 740}}) {
        for (boolean dark : new boolean[] {false, true}) {
          browser.show(size[0], size[1], dark);
          browser.go(demo.page().web().uri().toString());
          browser.awaitAttribute(sentence("warm", ""), "data-state", "ok");
          browser.awaitText("#cap-temperature", "°C");
          assertEquals(List.of(), browser.axeViolations());
          assertEquals(
              true,
              browser.script(
                  "return document.documentElement.scrollWidth <="
                      + " document.documentElement.clientWidth"),
              "nothing sticks out sideways");
          browser.picture("page-" + size[0] + (dark ? "-dark" : "-light"));
        }
      }
    }
  }

  @Test
  void everythingToTouchIsLargeEnoughForAGlove() throws Exception {
    try (Demo demo = demo(60)) {
      open(demo);
      browser.awaitAttribute(sentence("warm", ""), "data-state", "ok");
      assertEquals(List.of(), browser.tooSmall());
    }
  }

  @Test
  void aSensorThatIsUnpluggedIsNamedAndItsSentenceBecomesUnknown() throws Exception {
    try (Demo demo = demo(60)) {
      open(demo);
      browser.awaitAttribute(sentence("warm", ""), "data-state", "ok");
      demo.device().unplug(DemoSensor.MOLD);
      browser.awaitAttribute(sentence("warm", ""), "data-state", "unknown");
      browser.awaitText("#parts", "fault");
      demo.device().plugIn(DemoSensor.MOLD);
      browser.awaitAttribute(sentence("warm", ""), "data-state", "ok");
    }
  }

  @Test
  void thePageSaysWhenTheDeviceIsGoneAndWhenTheServerIsGone() throws Exception {
    Demo demo = demo(60);
    try {
      open(demo);
      browser.awaitAttribute("#link", "data-state", "here");
      demo.device().close();
      browser.awaitText("#alarm", "The device \"bench\" is offline");
    } finally {
      demo.page().close();
    }
    browser.awaitText("#alarm", "No answer from Layroom since");
    browser.awaitAttribute("#verdict", "data-state", "unknown");
    assertTrue(browser.text(sentence("warm", " .detail")).contains("too old"));
    browser.picture("server-gone");
    demo.close();
  }

  /**
   * Letters as high as the distance over 200 are read without strain (common practice of signs, no
   * source): 15 mm over three meters. A tablet of ten inches and 1280x800 pixels has 254 mm in its
   * diagonal.
   */
  @Test
  void theSentencesCanBeReadFromAcrossTheRoom() throws Exception {
    try (Demo demo = demo(60)) {
      open(demo);
      browser.awaitAttribute(sentence("warm", ""), "data-state", "ok");
      browser.press("Wall view");
      browser.go(demo.page().web().uri().toString());
      browser.awaitAttribute(sentence("warm", ""), "data-state", "ok");
      Object pixels =
          browser.script(
              "const e = document.querySelector('#sentences .head');"
                  + "const c = document.createElement('canvas').getContext('2d');"
                  + "const s = getComputedStyle(e);"
                  + "c.font = s.fontWeight + ' ' + s.fontSize + ' ' + s.fontFamily;"
                  + "return c.measureText('W').actualBoundingBoxAscent");
      double millimeters = ((Number) pixels).doubleValue() * 254 / Math.hypot(1280, 800);
      assertTrue(millimeters >= 3000 / 200.0, "capitals are " + millimeters + " mm high");
      assertEquals(
          true,
          browser.script(
              "return [...document.querySelectorAll('#verdict, #sentences .head')]"
                  + ".every(e => e.getBoundingClientRect().bottom <= innerHeight"
                  + " && e.getBoundingClientRect().right <= innerWidth)"),
          "verdict and sentences are whole in sight");
      assertEquals(List.of(), browser.axeViolations());
      browser.picture("across-the-room");
      demo.device().makeColdAndDamp();
      browser.awaitText(sentence("warm", " .head"), "Too cold");
      browser.picture("across-the-room-cold");
      browser.press("Leave wall view");
      browser.awaitText("#cap-temperature", "°C");
    }
  }

  @Test
  void aLeaveStandsOnThePageUntilSomebodyHasSeenIt() throws Exception {
    try (Demo demo = demo(60)) {
      open(demo);
      browser.awaitText("#first", "Read the cautions");
      browser.press("Set up");
      browser.awaitText("#air .air-state", "No rise seen");
      browser.awaitText("#air", "MEKP");
      demo.device().fan(false);
      demo.device().wipeDown(30);
      browser.awaitText("#air .warnings", "Leave the room");
      browser.awaitText("#air .warnings", "The last minute");
      browser.awaitText("#air .warnings", "not a styrene measurement");
      browser.awaitText("#air .warnings .do", "Leave now");
      browser.script(
          "document.querySelector('#air-who').value = 'Kim';"
              + "document.querySelector('#air .warnings button').click()");
      browser.awaitText("#air .warnings", "Acknowledged by Kim");
      browser.script("window.scrollTo(0, document.querySelector('#air').offsetTop)");
      browser.picture("leave-seen");
      browser.press("Warning log");
      browser.awaitText("#air .past", "Leave the room (bench)");
      browser.awaitText("#air .past", "to now");
      browser.awaitText("#air .past", "Acknowledged by Kim");
      assertEquals(List.of(), browser.axeViolations());
      assertEquals(List.of(), browser.consoleErrors());
    }
  }

  @Test
  void theAirOfALayupIsEstimatedOnThePage() throws Exception {
    try (Demo demo = demo(1)) {
      open(demo);
      browser.press("Air");
      browser.awaitText("#air .air-state", "No rise");
      browser.script(
          "document.querySelector('#fumes-door').closest('details').open = true;"
              + "[...document.querySelectorAll('#air button')]"
              + ".find(b => b.textContent === 'Estimate').click()");
      browser.awaitText("#air .answer", "the real figure can be half or twice this");
      assertEquals(List.of(), browser.axeViolations());
    }
  }
}
