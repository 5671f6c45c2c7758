package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.deque.html.axecore.results.Results;
import com.deque.html.axecore.results.Rule;
import com.deque.html.axecore.selenium.AxeBuilder;
import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.StaleElementReferenceException;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.interactions.Actions;
import org.openqa.selenium.interactions.PointerInput;
import org.openqa.selenium.interactions.Sequence;
import org.openqa.selenium.logging.LogEntry;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.support.ui.WebDriverWait;

/** Debian's Chromium without a screen, with what the page's tests ask of it. */
final class Browser implements AutoCloseable {
  private static final Path CHROMIUM = Path.of("/usr/bin/chromium");
  private static final Path DRIVER = Path.of("/usr/bin/chromedriver");
  private static final Duration PATIENCE = Duration.ofSeconds(90);

  private static final Duration NO_TIME = Duration.ZERO;

  private final ChromeDriver driver;

  private Browser(ChromeDriver driver) {
    this.driver = driver;
  }

  static Browser open() {
    boolean there = Files.isExecutable(CHROMIUM) && Files.isExecutable(DRIVER);
    if (!there && System.getenv("CI") != null) {
      fail("Chromium and its driver are missing: install the packages chromium, chromium-driver");
    }
    assumeTrue(there, "Chromium and its driver are not installed");
    ChromeOptions options = new ChromeOptions();
    options.setBinary(CHROMIUM.toFile());
    options.addArguments(
        "--headless=new",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--disable-dev-shm-usage",
        "--lang=en-US");
    ChromeDriverService service =
        new ChromeDriverService.Builder()
            .usingDriverExecutable(DRIVER.toFile())
            .usingAnyFreePort()
            .build();
    return new Browser(new ChromeDriver(service, options));
  }

  /** Sets the window's inner size and color scheme. */
  void show(int width, int height, boolean dark) {
    driver.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", false));
    driver.executeCdpCommand(
        "Emulation.setEmulatedMedia",
        Map.of(
            "features",
            List.of(Map.of("name", "prefers-color-scheme", "value", dark ? "dark" : "light"))));
  }

  void go(String url) {
    driver.get(url);
  }

  /** Opens a screen of the page anew, and waits until it hears from the room. */
  void openScreen(URI page, String screen) {
    leave();
    go(page + "#" + screen);
    awaitAttribute("#link", "data-state", "here");
  }

  /** Sets the window as a zoom does: that much fewer, that much larger pixels. */
  void zoom(int width, int height, double factor) {
    driver.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of(
            "width",
            (int) Math.round(width / factor),
            "height",
            (int) Math.round(height / factor),
            "deviceScaleFactor",
            factor,
            "mobile",
            false));
  }

  /** Leaves the page, and with it what it said of a server that was gone by then. */
  void leave() {
    driver.get("about:blank");
    consoleErrors();
  }

  String text(String css) {
    return driver.findElement(By.cssSelector(css)).getText();
  }

  private String said() {
    return driver.getCurrentUrl() + " " + script("return document.body.innerText.slice(0, 2000)");
  }

  /** Waits until the text of an element contains some words. */
  void awaitText(String css, String words) {
    new WebDriverWait(driver, PATIENCE)
        .ignoring(StaleElementReferenceException.class)
        .withMessage(() -> css + " does not say \"" + words + "\"; the page says " + said())
        .until(d -> text(css).contains(words));
  }

  /** Waits until an attribute has a value. */
  void awaitAttribute(String css, String attribute, String value) {
    new WebDriverWait(driver, PATIENCE)
        .ignoring(StaleElementReferenceException.class)
        .withMessage(() -> css + " does not become " + value + "; the page says " + said())
        .until(d -> value.equals(d.findElement(By.cssSelector(css)).getDomAttribute(attribute)));
  }

  /** Waits until a field holds a text. */
  void awaitValue(String css, String text) {
    await(
        css + " does not hold " + text,
        "return document.querySelector(arguments[0]).value === arguments[1]",
        css,
        text);
  }

  private static final String SHOWN =
      "const shown = e => e.offsetParent !== null && !e.disabled;"
          + "const named = (e, n) => (e.getAttribute('aria-label') ?? e.textContent).trim() === n;";

  /** Presses the first button, link or summary in sight of this name, as soon as there is one. */
  void press(String name) {
    await(
        "nothing in sight to press is called \"" + name + "\"",
        SHOWN
            + "const found = [...document.querySelectorAll('button,a,summary')]"
            + ".find(e => shown(e) && named(e, arguments[0]));"
            + "if (found) found.click(); return Boolean(found)",
        name);
  }

  /** Presses the first element of a selector. */
  void pressFirst(String css) {
    await(
        "nothing to press at " + css,
        "const e = document.querySelector(arguments[0]); if (e) e.click(); return Boolean(e)",
        css);
  }

  private static final String LABELED =
      SHOWN
          + "const label = [...document.querySelectorAll('label')]"
          + ".find(e => shown(e) && named(e, arguments[0]));"
          + "const field = label && (label.control ?? document.getElementById(label.htmlFor));";

  /** Types into the field of this label, in place of what is there. */
  void type(String label, String text) {
    await(
        "no field in sight is called \"" + label + "\"",
        LABELED
            + "if (field) { field.value = arguments[1];"
            + " field.dispatchEvent(new Event('input', {bubbles: true}));"
            + " field.dispatchEvent(new Event('change', {bubbles: true})); }"
            + "return Boolean(field)",
        label,
        text);
  }

  /** Ticks the box of this label. */
  void tick(String label) {
    await(
        "no box in sight is called \"" + label + "\"",
        LABELED + "if (field && !field.checked) field.click(); return Boolean(field)",
        label);
  }

  void focus(String label) {
    await(
        "no field in sight is called \"" + label + "\"",
        LABELED + "if (field) field.focus(); return Boolean(field)",
        label);
  }

  /**
   * Presses a button before which the page may ask for reading and going on: does that as often as
   * it is asked anew, since the room goes on meanwhile.
   */
  void pressHavingRead(String name) {
    await(
        "nothing in sight to press is called \"" + name + "\"",
        LABELED
            + "if (field && !field.checked) field.click();"
            + "const found = [...document.querySelectorAll('button')]"
            + ".find(e => shown(e) && named(e, arguments[1]));"
            + "if (found) found.click(); return Boolean(found)",
        "I have read this. Mix anyway.",
        name);
  }

  void keys(String keys) {
    new Actions(driver).sendKeys(keys).perform();
  }

  /**
   * Drags an element with one finger by a share of its width; to the right where it is positive.
   */
  void drag(String css, double share) {
    WebElement element = inSight(css);
    int width = element.getSize().getWidth();
    int way = (int) Math.round(share * width);
    PointerInput finger = new PointerInput(PointerInput.Kind.MOUSE, "finger");
    Sequence drag = new Sequence(finger, 0);
    drag.addAction(finger.createPointerMove(NO_TIME, origin(element), -way / 2, 0));
    drag.addAction(finger.createPointerDown(PointerInput.MouseButton.LEFT.asArg()));
    for (int part = 1; part <= 8; part++) {
      int x = -way / 2 + way * part / 8;
      drag.addAction(finger.createPointerMove(NO_TIME, origin(element), x, 0));
    }
    drag.addAction(finger.createPointerUp(PointerInput.MouseButton.LEFT.asArg()));
    driver.perform(List.of(drag));
  }

  /** Draws two fingers apart on an element, until they are so many times as far from each other. */
  void pinch(String css, double factor) {
    WebElement element = inSight(css);
    int far = element.getSize().getWidth() / 4;
    int near = (int) Math.round(far / factor);
    driver.perform(
        List.of(finger("left", element, -near, -far), finger("right", element, near, far)));
  }

  private static Sequence finger(String name, WebElement element, int from, int to) {
    PointerInput finger = new PointerInput(PointerInput.Kind.TOUCH, name);
    Sequence way = new Sequence(finger, 0);
    way.addAction(finger.createPointerMove(NO_TIME, origin(element), from, 0));
    way.addAction(finger.createPointerDown(PointerInput.MouseButton.LEFT.asArg()));
    for (int part = 1; part <= 8; part++) {
      int x = from + (to - from) * part / 8;
      way.addAction(finger.createPointerMove(NO_TIME, origin(element), x, 0));
    }
    way.addAction(finger.createPointerUp(PointerInput.MouseButton.LEFT.asArg()));
    return way;
  }

  private static PointerInput.Origin origin(WebElement element) {
    return PointerInput.Origin.fromElement(element);
  }

  private WebElement inSight(String css) {
    WebElement element = driver.findElement(By.cssSelector(css));
    driver.executeScript("arguments[0].scrollIntoView({block: 'center'})", element);
    return element;
  }

  /** Presses the tab key until what has this name, or this label, has the focus. */
  boolean tabTo(String name, int most) {
    for (int i = 0; i < most; i++) {
      Object there =
          driver.executeScript(
              "const e = document.activeElement;"
                  + "return (e.getAttribute('aria-label') ?? (e.labels?.[0] ??"
                  + " e).textContent).trim()"
                  + " === arguments[0]",
              name);
      if (Boolean.TRUE.equals(there)) {
        return true;
      }
      new Actions(driver).sendKeys(Keys.TAB).perform();
    }
    return false;
  }

  private void await(String otherwise, String script, Object... arguments) {
    new WebDriverWait(driver, PATIENCE)
        .withMessage(() -> otherwise + "; the page says " + said())
        .until(d -> Boolean.TRUE.equals(driver.executeScript(script, arguments)));
  }

  /** What is in sight to be touched and under 48 px high; a box or a dot counts with its label. */
  Object tooSmall() {
    return script(
        "return [...document.querySelectorAll('select,summary,button,a,input,textarea')]"
            + ".map(e => [e, ['radio', 'checkbox'].includes(e.type) ? e.closest('label') ?? e : e])"
            + ".filter(([e, target]) => e.offsetHeight > 0 && target.offsetHeight < 48)"
            + ".map(([e]) => e.outerHTML.slice(0, 80))");
  }

  Object script(String script, Object... arguments) {
    Object result = driver.executeScript(script, arguments);
    return result == null ? "" : result;
  }

  /**
   * Every violation of axe's rules, with where it is. Asked in the page itself: the page has no
   * frames, for whose sake axe would open a second window each time.
   */
  @SuppressWarnings("deprecation")
  List<String> axeViolations() {
    Results results = new AxeBuilder().setLegacyMode(true).analyze(driver);
    return results.getViolations().stream().map(Browser::words).toList();
  }

  private static String words(Rule rule) {
    return rule.getId()
        + ": "
        + rule.getHelp()
        + " "
        + rule.getNodes().stream().map(node -> node.getHtml()).toList();
  }

  /** What the page wrote to the browser's console as errors. */
  List<String> consoleErrors() {
    return driver.manage().logs().get(LogType.BROWSER).getAll().stream()
        .filter(entry -> entry.getLevel().intValue() >= java.util.logging.Level.SEVERE.intValue())
        .map(LogEntry::getMessage)
        .toList();
  }

  /** Keeps a picture of the window under target/screenshots. */
  void picture(String name) throws IOException {
    Path folder = Files.createDirectories(Path.of("target", "screenshots"));
    Files.write(folder.resolve(name + ".png"), driver.getScreenshotAs(OutputType.BYTES));
  }

  @Override
  public void close() {
    driver.quit();
  }
}
