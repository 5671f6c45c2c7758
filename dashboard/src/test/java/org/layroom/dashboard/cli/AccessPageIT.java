package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeFalse;

import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.layroom.dashboard.access.HostNames;
import org.layroom.dashboard.access.Role;
import org.layroom.dashboard.testing.Until;
import org.openqa.selenium.Keys;

/** A tablet is let in, looks, and is put out, in a real browser by the machine's real address. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class AccessPageIT {
  private final Browser browser = Browser.open();
  private final ReachableDashboard house;

  AccessPageIT() throws Exception {
    house = ReachableDashboard.start();
  }

  @AfterAll
  void close() {
    browser.close();
    house.close();
  }

  private String elsewhere() {
    List<String> addresses = HostNames.addresses();
    if (addresses.isEmpty() && System.getenv("CI") != null) {
      fail("this machine has no address but loopback, and this test needs one");
    }
    assumeFalse(addresses.isEmpty(), "this machine has no address but loopback");
    return "http://" + addresses.get(0) + ":" + house.port() + "/";
  }

  private void isWellMade() {
    assertEquals(List.of(), browser.axeViolations());
    assertEquals(List.of(), browser.tooSmall());
    assertEquals(true, browser.script("return document.documentElement.scrollWidth <= innerWidth"));
  }

  private static final String PART =
      "{\"id\":\"ev-start-1\",\"type\":\"started\",\"part\":\"left fender\",\"molds\":[\"fender\"],"
          + "\"steps\":[{\"kind\":\"gel-coat\"},{\"kind\":\"layer\"},{\"kind\":\"demold\"}]}";

  /** A screen, words that stand on it when it is drawn, and the buttons that a reader has there. */
  private record Shown(String screen, String words, String buttons) {}

  private static final List<Shown> FOR_A_READER =
      List.of(
          new Shown("air", "No vapor sensor in this room", "Estimate, I have read this"),
          new Shown("jobs", "left fender", "Mix for gel coat"),
          new Shown("cans", "Materials", ""),
          new Shown("log", "Finished", ""),
          new Shown("mix", "Mix", ""));

  private static final String BUTTONS =
      """
      const section = document.getElementById(arguments[0]);
      section.querySelectorAll("details").forEach((fold) => (fold.open = true));
      return [...section.querySelectorAll("button")]
        .filter((button) => button.offsetParent !== null)
        .map((button) => button.textContent)
        .join(", ");
      """;

  private void showsNoButtonThatWouldBeRefused() {
    for (Shown shown : FOR_A_READER) {
      browser.script("location.hash = '" + shown.screen() + "'");
      browser.awaitText("#" + shown.screen(), shown.words());
      assertEquals(shown.buttons(), browser.script(BUTTONS, shown.screen()), shown.screen());
    }
  }

  @Test
  void aTabletIsLetInByKeyboardAloneLooksAndIsPutOut() throws Exception {
    String there = elsewhere();
    assertEquals(201, house.ask("POST /api/job?job=job-00000001", PART).status());
    for (int[] size : new int[][] {{360, 740}, {1280, 800}}) {
      for (boolean dark : new boolean[] {false, true}) {
        browser.show(size[0], size[1], dark);
        browser.go(there);
        browser.awaitText("#pair-title", "Pair this device");
        isWellMade();
        browser.picture("pair-" + size[0] + (dark ? "-dark" : "-light"));
      }
    }
    browser.leave();
    browser.go(there);
    browser.awaitText("#pair-title", "Pair this device");
    browser.focus("Code");
    browser.keys("zzzz-zzzz" + Keys.TAB + "old tablet" + Keys.ENTER);
    browser.awaitText("#said", "Wrong code");
    browser.leave();
    browser.go(there);
    browser.focus("Code");
    browser.keys(house.door().open(Role.READ_ONLY).text() + Keys.TAB + "old tablet" + Keys.ENTER);
    browser.awaitText("#reader-note", "read-only");
    browser.awaitText("#house-link", "This device: old tablet");
    browser.press("This device: old tablet");
    browser.awaitText("#house", "This device cannot change anything");
    isWellMade();
    browser.picture("reader");
    showsNoButtonThatWouldBeRefused();
    assertEquals(List.of(), browser.consoleErrors());
    house.door().paired().stream()
        .filter(session -> session.name().equals("old tablet"))
        .forEach(session -> house.door().revoke(session.id()));
    browser.awaitText("#pair-title", "Pair this device");
    browser.leave();
  }

  @Test
  void whoMayComeInIsShownAndChangedAtTheDashboard() throws Exception {
    house.cookie(Role.FULL, "phone of the shop");
    for (int[] size : new int[][] {{360, 740}, {1280, 800}}) {
      for (boolean dark : new boolean[] {false, true}) {
        browser.leave();
        browser.show(size[0], size[1], dark);
        browser.go(house.url() + "#house");
        browser.awaitText("#house", "phone of the shop");
        browser.press("Read-only code");
        browser.awaitText("#house .code", "-");
        isWellMade();
        browser.picture("house-" + size[0] + (dark ? "-dark" : "-light"));
      }
    }
    String shown = browser.text("#house .code output");
    assertEquals(201, house.pair(shown, "by the screen").status());
    browser.awaitText("#house", "by the screen");
    browser.press("Remove phone of the shop");
    Until.within(
        Duration.ofSeconds(90),
        "it is put out",
        () ->
            house.door().paired().stream()
                .noneMatch(session -> session.name().equals("phone of the shop")));
    assertEquals(List.of(), browser.consoleErrors());
  }
}
