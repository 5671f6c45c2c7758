package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.deque.html.axecore.results.Results;
import com.deque.html.axecore.results.Rule;
import com.deque.html.axecore.selenium.AxeBuilder;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import org.openqa.selenium.By;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.StaleElementReferenceException;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.logging.LogEntry;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.support.ui.WebDriverWait;

/** Debian's Chromium without a screen, with what the page's tests ask of it. */
final class Browser implements AutoCloseable {
  private static final Path CHROMIUM = Path.of("/usr/bin/chromium");
  private static final Path DRIVER = Path.of("/usr/bin/chromedriver");
  private static final Duration PATIENCE = Duration.ofSeconds(90);

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

  String text(String css) {
    return driver.findElement(By.cssSelector(css)).getText();
  }

  /** Waits until the text of an element contains some words. */
  void awaitText(String css, String words) {
    new WebDriverWait(driver, PATIENCE)
        .ignoring(StaleElementReferenceException.class)
        .withMessage(() -> css + " does not say \"" + words + "\" but \"" + text(css) + "\"")
        .until(d -> text(css).contains(words));
  }

  /** Waits until an attribute has a value. */
  void awaitAttribute(String css, String attribute, String value) {
    new WebDriverWait(driver, PATIENCE)
        .ignoring(StaleElementReferenceException.class)
        .withMessage(() -> css + " does not become " + value + "; it says " + text(css))
        .until(d -> value.equals(d.findElement(By.cssSelector(css)).getDomAttribute(attribute)));
  }

  Object script(String script) {
    Object result = driver.executeScript(script);
    return result == null ? "" : result;
  }

  /** Every violation of axe's rules, with where it is. */
  List<String> axeViolations() {
    Results results = new AxeBuilder().analyze(driver);
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
