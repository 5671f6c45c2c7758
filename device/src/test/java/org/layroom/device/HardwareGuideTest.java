package org.layroom.device;

import static java.util.Map.entry;
import static java.util.Objects.requireNonNull;
import static org.junit.jupiter.api.Assertions.assertAll;
import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.StringReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.layroom.device.config.DeviceConfig;

/**
 * The hardware notes say what can be built: their drawings are to scale, their pins are the
 * header's, their settings are accepted, and their sums are right. {@link HardwareTable} holds the
 * arithmetic.
 */
class HardwareGuideTest {
  private static final Path NOTES = Path.of("..", "hardware-notes");
  private static final List<String> PAGES =
      List.of("README.md", "build.md", "electrical.md", "calibration.md", "care.md", "faults.md");

  /** Raspberry Pi documentation, "GPIO and the 40-pin header"; from memory. */
  private static final List<String> HEADER =
      List.of(
          "3.3 V, 5 V, GPIO 2, 5 V, GPIO 3, ground, GPIO 4, GPIO 14, ground, GPIO 15",
          "GPIO 17, GPIO 18, GPIO 27, ground, GPIO 22, GPIO 23, 3.3 V, GPIO 24, GPIO 10, ground",
          "GPIO 9, GPIO 25, GPIO 11, GPIO 8, ground, GPIO 7, GPIO 0, GPIO 1, GPIO 5, ground",
          "GPIO 6, GPIO 12, GPIO 13, ground, GPIO 19, GPIO 16, GPIO 26, GPIO 20, ground, GPIO 21");

  private static final Pattern SETTING =
      Pattern.compile("^ {4,8}((?:room|device|[a-z]+(?:-[a-z]+)*\\.[a-z0-9./-]+)=\\S+)$");

  private static String page(String name) throws IOException {
    return Files.readString(NOTES.resolve(name));
  }

  /** The rows of all tables of a page, without heads and rules, as trimmed cells. */
  private static List<List<String>> rows(String page) throws IOException {
    return page(page)
        .lines()
        .filter(line -> line.startsWith("| "))
        .map(line -> List.of(line.substring(2).split(" *\\| ?", -1)))
        .toList();
  }

  private static List<String> headerPins() {
    return HEADER.stream().flatMap(row -> List.of(row.split(", ")).stream()).toList();
  }

  /** Lines of settings that stand together, as somebody would paste them. */
  private static List<String> settings(String page) throws IOException {
    List<String> blocks = new ArrayList<>();
    StringBuilder block = new StringBuilder();
    for (String line : (page(page) + "\n\n").split("\\R", -1)) {
      Matcher setting = SETTING.matcher(line);
      if (setting.matches()) {
        block.append(setting.group(1)).append('\n');
      } else if (!block.isEmpty()) {
        blocks.add(block.toString());
        block.setLength(0);
      }
    }
    return blocks;
  }

  private static Properties properties(String block) throws IOException {
    Properties properties = new Properties();
    properties.load(new StringReader(block));
    return properties;
  }

  private static Properties allSettings(String page) throws IOException {
    Properties all = new Properties();
    for (String block : settings(page)) {
      all.putAll(properties(block));
    }
    return all;
  }

  @Test
  void everyFigureIsRecomputed() throws IOException {
    Set<String> seen = new TreeSet<>();
    for (String page : List.of("electrical.md", "calibration.md")) {
      for (List<String> cells : rows(page)) {
        if (HardwareTable.isRow(cells)) {
          assertTrue(seen.add(cells.get(0)), cells.get(0) + " stands twice");
          HardwareTable.Row.of(cells).check();
        }
      }
    }
    assertEquals(HardwareTable.ids(), seen);
  }

  /** UM10204, table of the I/O stages and of the timing; each limit as typed here. */
  @Test
  void theBusKeepsToTheSpecification() throws IOException {
    Map<String, String> limits =
        Map.ofEntries(
            entry("I2", "≥ 967 Ω"),
            entry("I3", "≤ 3 mA"),
            entry("I6", "over 3 mA"),
            entry("I9", "≤ 400 pF"),
            entry("I10", "≤ 1000 ns"),
            entry("S3", "≤ 4 mA"),
            entry("D1", "≤ 3.3 V"));
    Map<String, String> found = new TreeMap<>();
    for (List<String> cells : rows("electrical.md")) {
      if (limits.containsKey(cells.get(0))) {
        found.put(cells.get(0), cells.get(5));
      }
    }
    assertEquals(new TreeMap<>(limits), found);
  }

  @Test
  void theSameFiguresStandInTheGuide() throws IOException {
    Map<String, String> results = new TreeMap<>();
    for (List<String> cells : rows("electrical.md")) {
      if (HardwareTable.isRow(cells)) {
        results.put(cells.get(0), cells.get(4));
      }
    }
    String guide = page("README.md") + page("build.md");
    for (String id : List.of("I2", "I3", "L1", "A6", "A7", "D5")) {
      assertTrue(guide.contains(results.get(id)), id + " " + results.get(id));
    }
    assertTrue(guide.contains("218 of 400 pF") && guide.contains("244 of 1000 ns"));
    assertEquals("218 pF", results.getOrDefault("I9", ""));
    assertEquals("244 ns", results.getOrDefault("I10", ""));
  }

  @Test
  void everyPlaceIsDrawnToScale() throws IOException {
    double unit = 160;
    double left = 60;
    double floor = 470;
    double back = 60;
    int places = 0;
    for (List<String> cells : rows("README.md")) {
      if (cells.size() > 4 && cells.get(1).matches("\\d\\.\\d\\d")) {
        places++;
        double x = Double.parseDouble(cells.get(1));
        double depth = Double.parseDouble(cells.get(2));
        double height = Double.parseDouble(cells.get(3));
        at("layout-side.svg", cells.get(0), left + unit * x, floor - unit * height);
        at("layout-above.svg", cells.get(0), left + unit * x, back + unit * depth);
      }
    }
    assertEquals(12, places);
  }

  private static void at(String drawing, String id, double x, double y) throws IOException {
    Matcher dot =
        Pattern.compile("<circle id=\"" + id + "\" cx=\"([0-9.]+)\" cy=\"([0-9.]+)\"")
            .matcher(page(drawing));
    assertTrue(dot.find(), drawing + " shows no " + id);
    assertEquals(x, Double.parseDouble(dot.group(1)), 0.01, id + " in " + drawing);
    assertEquals(y, Double.parseDouble(dot.group(2)), 0.01, id + " in " + drawing);
  }

  /** The cables' rows in the arithmetic start from the places in the guide. */
  @Test
  void everyCableReachesItsEnds() throws IOException {
    Map<String, List<String>> ends =
        Map.of(
            "K1", List.of("bench-box", "head-h"),
            "K2", List.of("low-box", "head-l"),
            "K3", List.of("bench-box", "junction"));
    Map<String, List<Double>> places = new TreeMap<>();
    for (List<String> cells : rows("README.md")) {
      if (cells.size() > 4 && cells.get(1).matches("\\d\\.\\d\\d")) {
        places.put(cells.get(0), cells.subList(1, 4).stream().map(Double::parseDouble).toList());
      }
    }
    int cables = 0;
    for (List<String> cells : rows("electrical.md")) {
      List<String> between = ends.get(cells.get(0));
      if (between != null) {
        cables++;
        HardwareTable.Row row = HardwareTable.Row.of(cells);
        List<Double> from = requireNonNull(places.get(between.get(0)));
        List<Double> to = requireNonNull(places.get(between.get(1)));
        List<String> ways = List.of("dx", "dy", "dz");
        for (int i = 0; i < ways.size(); i++) {
          double way = Math.abs(from.get(i) - to.get(i));
          assertEquals(way, row.input(ways.get(i)), 1e-9, cells.get(0) + " " + ways.get(i));
        }
      }
    }
    assertEquals(ends.size(), cables);
  }

  @Test
  void everyPinIsTheHeaders() throws IOException {
    List<String> pins = headerPins();
    assertEquals(40, pins.size());
    int told = 0;
    for (List<String> cells : rows("build.md")) {
      if (cells.size() > 3 && cells.get(0).matches("\\d+")) {
        told++;
        String name = cells.get(1).replaceFirst(",.*", "");
        assertEquals(pins.get(Integer.parseInt(cells.get(0)) - 1), name, "pin " + cells.get(0));
      }
    }
    assertEquals(17, told);
    Matcher drawn = Pattern.compile("data-pin=\"(\\d+)\">([^<,]+)").matcher(page("header.svg"));
    Set<Integer> seen = new TreeSet<>();
    while (drawn.find()) {
      int pin = Integer.parseInt(drawn.group(1));
      assertEquals(pins.get(pin - 1), drawn.group(2), "drawn pin " + pin);
      seen.add(pin);
    }
    assertEquals(40, seen.size());
  }

  /** The drawing of the array shows each line at the pin that the table names. */
  @Test
  void everyLineOfTheSettingsHasItsWire() throws IOException {
    Properties lines = allSettings("build.md");
    List<String> pins = headerPins();
    String table = page("build.md");
    String drawing = page("wiring-alarm.svg");
    int wired = 0;
    for (String key : lines.stringPropertyNames()) {
      if (key.startsWith("alarm.") || key.equals("fan.relay")) {
        wired++;
        String line = "GPIO " + lines.getProperty(key);
        int pin = pins.indexOf(line) + 1;
        assertTrue(table.contains("| " + pin + " | " + line + " |"), key);
        assertTrue(drawing.contains(">" + line + "<"), key);
        assertTrue(drawing.contains(">pin " + pin + "<"), key);
        assertTrue(Integer.parseInt(lines.getProperty(key)) >= 9, key + " is pulled up at boot");
      }
    }
    assertEquals(7, wired);
  }

  @Test
  void everySettingIsAccepted() throws IOException {
    int blocks = 0;
    for (String page : PAGES) {
      for (String block : settings(page)) {
        blocks++;
        Properties properties = properties(block);
        assertDoesNotThrow(() -> DeviceConfig.of(properties), page + "\n" + block);
      }
    }
    assertTrue(blocks >= 7, blocks + " blocks");
  }

  /** What is pasted at the end of the evening is what the example works out. */
  @Test
  void theExampleEndsInItsLines() throws IOException {
    Map<String, String> keys =
        Map.of(
            "O1", "offset.28-0316a279f1ff",
            "O2", "offset.28-0316a2798dff",
            "O3", "offset.humidity",
            "O4", "offset.temperature");
    Properties pasted = allSettings("calibration.md");
    int examples = 0;
    for (List<String> cells : rows("calibration.md")) {
      if (keys.containsKey(cells.get(0))) {
        examples++;
        assertEquals(
            cells.get(4).replaceFirst(" .*", ""), pasted.getProperty(keys.get(cells.get(0))));
      }
    }
    assertEquals(keys.size(), examples);
  }

  @Test
  void thePartsAddUp() throws IOException {
    Map<String, Integer> sums = new TreeMap<>();
    Map<String, Integer> totals = new TreeMap<>();
    for (List<String> cells : rows("README.md")) {
      if (cells.size() > 6 && cells.get(4).matches("\\d+")) {
        int sum = Integer.parseInt(cells.get(4));
        if (cells.get(0).startsWith("**total ")) {
          totals.put(cells.get(0).replaceAll("\\*\\*(total )?", ""), sum);
        } else {
          int count = Integer.parseInt(cells.get(2));
          assertEquals(count * Integer.parseInt(cells.get(3)), sum, cells.get(0));
          sums.merge(cells.get(1), sum, Integer::sum);
        }
      }
    }
    Map<String, Integer> expected =
        Map.of(
            "measure", sums.getOrDefault("measure", 0),
            "warn", sums.getOrDefault("warn", 0),
            "measure, warn and fan",
                sums.getOrDefault("measure", 0)
                    + sums.getOrDefault("warn", 0)
                    + sums.getOrDefault("fan", 0));
    assertEquals(new TreeMap<>(expected), totals);
  }

  /** Headings as a page's anchors name them: small letters, dashes for blanks. */
  private static Set<String> anchors(String page) throws IOException {
    Set<String> anchors = new TreeSet<>();
    Matcher heading = Pattern.compile("(?m)^#+ (.+)$").matcher(page(page));
    while (heading.find()) {
      String words = heading.group(1).toLowerCase(Locale.ROOT);
      anchors.add(words.replaceAll("[^a-z0-9 -]", "").replace(' ', '-'));
    }
    return anchors;
  }

  @Test
  void everyLinkLeadsSomewhere() throws IOException {
    Set<String> drawings = new TreeSet<>();
    for (String page : PAGES) {
      Matcher link = Pattern.compile("]\\(([^)#]+)#?([^)]*)\\)").matcher(page(page));
      while (link.find()) {
        String target = link.group(1);
        assertTrue(Files.exists(NOTES.resolve(target)), page + " -> " + target);
        if (!link.group(2).isEmpty()) {
          assertTrue(anchors(target).contains(link.group(2)), page + " -> " + link.group());
        }
        drawings.add(target);
      }
    }
    try (var files = Files.list(NOTES)) {
      for (Path file : files.filter(one -> one.toString().endsWith(".svg")).toList()) {
        String name = file.getFileName().toString();
        String drawing = page(name);
        assertAll(
            () -> assertTrue(drawings.contains(name), name + " is not shown"),
            () -> assertTrue(drawing.contains("<title"), name + " has no title"),
            () -> assertTrue(drawing.contains("<desc"), name + " has no description"));
      }
    }
  }

  /** Raspberry Pi documentation, "vcgencmd": bit 0 now, bit 16 since the start. */
  @Test
  void underVoltageIsReadFromItsBits() throws IOException {
    String guide = page("build.md");
    assertTrue(guide.contains("`0x%x` in it".formatted(1)));
    assertTrue(guide.contains("`0x%x` since the start".formatted(1 << 16)));
  }
}
