package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.access.Role;
import org.layroom.dashboard.app.Demo;
import org.layroom.dashboard.testing.Until;
import picocli.CommandLine;

/**
 * Every command of the two READMEs is typed as it stands there, against the demo's dashboard where
 * it asks one. Only the files that a reader is to provide, or to choose a name for, are put in.
 */
class ReadmeCommandsIT {
  private static final Path README = Path.of("..", "README.md");
  private static final List<Path> READMES =
      List.of(README, Path.of("..", "hardware-notes", "README.md"));

  /** A line of a code block; what stands behind two blanks explains it. */
  private static final Pattern LINE =
      Pattern.compile(
          "^    (?:sudo (?:-u \\S+ )?)?(?:java -jar dashboard/target/layroom\\.jar|layroom) (.*)$");

  /**
   * A command with what it needs inside a sentence; one that leaves something out is no command.
   */
  private static final Pattern INLINE = Pattern.compile("`(?:sudo )?layroom ([a-z-]+ [^`…]+)`");

  private static final Pattern WORD = Pattern.compile("\"([^\"]*)\"|(\\S+)");

  /** They go on until they are stopped, so only their options are looked at. */
  private static final Set<String> ENDLESS = Set.of("serve", "demo");

  /** From then on the demo's own device is no longer let in, so these come last. */
  private static final Set<String> LAST = Set.of("pair-device", "revoke-device");

  /** Answered with status 2 in a fresh demo, as it should be, and why. */
  private static final Map<String, String> REFUSED =
      Map.of("clean-air take", "the procedure has just begun");

  @TempDir Path folder;

  /** What a reader provides or names, and what the test puts there instead. */
  private Map<String, String> provided() {
    Map<String, String> provided = new HashMap<>();
    for (String name :
        List.of(
            "my-can.json",
            "night.csv",
            "room.csv",
            "evening.csv",
            "week.csv",
            "parts.csv",
            "parts.json",
            "layroom.zip")) {
      provided.put(name, path(name));
    }
    provided.put("/media/stick/layroom.zip", path("layroom.zip"));
    provided.put("/etc/layroom/dashboard.properties", path("etc/dashboard.properties"));
    provided.put("DIR", path("mosquitto/conf.d"));
    return provided;
  }

  private String path(String name) {
    return folder.resolve(name).toString();
  }

  private record Line(Path file, int number, List<String> words) {
    String name() {
      return words.get(0);
    }

    @Override
    public String toString() {
      return file.normalize() + ":" + number + " layroom " + String.join(" ", words);
    }
  }

  private static List<Line> commands(Path file) throws IOException {
    List<Line> found = new ArrayList<>();
    List<String> lines = Files.readAllLines(file);
    for (int i = 0; i < lines.size(); i++) {
      Matcher block = LINE.matcher(lines.get(i));
      if (block.matches()) {
        found.add(line(file, i + 1, block.group(1).split(" {2,}", 2)[0]));
      }
      for (Matcher inline = INLINE.matcher(lines.get(i)); inline.find(); ) {
        found.add(line(file, i + 1, inline.group(1)));
      }
    }
    return found;
  }

  private static Line line(Path file, int number, String text) {
    List<String> words = new ArrayList<>();
    for (Matcher word = WORD.matcher(text.replaceAll("[\\[\\]]", "")); word.find(); ) {
      words.add(word.group(1) != null ? word.group(1) : word.group(2));
    }
    return new Line(file, number, words);
  }

  /** The material file that the README shows is the reader's own can. */
  private static String ownMaterial() throws IOException {
    String block = Files.readString(README);
    int from = block.indexOf("    {\"id\":\"my-can\"");
    return block.substring(from, block.indexOf("\n\n", from));
  }

  private void write(String name, String content) throws IOException {
    Path file = folder.resolve(name);
    Files.createDirectories(file.getParent());
    Files.writeString(file, content);
  }

  /** Hourly temperatures up to the moment that the README's examples ask about; invented. */
  private static String recording(int hours) {
    StringBuilder csv = new StringBuilder("time,temperature_degC,humidity_pctRH\n");
    Instant end = Instant.parse("2026-03-01T18:00:00Z");
    for (int i = 6 * hours; i >= 0; i--) {
      Instant time = end.minusSeconds(600L * i);
      double celsius = 17 + 3 * Math.sin(2 * Math.PI * (time.getEpochSecond() % 86_400) / 86_400.0);
      csv.append("%s,%.2f,55\n".formatted(time, celsius));
    }
    return csv.toString();
  }

  /** Minutes of the evening of the README's job, with a vapor sensor; invented. */
  private static String evening() {
    StringBuilder csv = new StringBuilder("time,temperature_degC,humidity_pctRH,voc_raw\n");
    Instant start = Instant.parse("2026-03-02T17:00:00Z");
    for (int minute = 0; minute < 300; minute++) {
      int drop = minute < 90 ? 0 : 20 * Math.min(60, minute - 90);
      csv.append("%s,20.1,50,%d\n".formatted(start.plusSeconds(60L * minute), 30120 - drop));
    }
    return csv.toString();
  }

  private List<String> typed(Line line, String url) {
    List<String> words = new ArrayList<>();
    line.words().forEach(word -> words.add(provided().getOrDefault(word, word)));
    CommandLine command = Layroom.commandLine().getSubcommands().get(line.name());
    if (command != null && command.getCommandSpec().findOption("--url") != null) {
      words.addAll(List.of("--url", url));
    }
    return words;
  }

  /** All but the demo, which the README starts by its own script. */
  private static Set<String> commandNames() {
    Set<String> names = new TreeSet<>(Layroom.commandLine().getSubcommands().keySet());
    names.remove("demo");
    names.remove("help");
    return names;
  }

  @Test
  void everyCommandIsAnsweredAsTyped() throws Exception {
    write("my-can.json", ownMaterial());
    write("night.csv", recording(12));
    write("room.csv", recording(24 * 7));
    write("evening.csv", evening());
    write("etc/dashboard.properties", "data=" + path("restored") + "\n");
    List<Line> all = new ArrayList<>();
    for (Path file : READMES) {
      all.addAll(commands(file));
    }
    assertEquals(
        Set.of(),
        commandNames().stream()
            .filter(name -> all.stream().noneMatch(line -> line.name().equals(name)))
            .collect(Collectors.toSet()),
        "commands that no README shows");
    try (Demo demo = Demo.start(10, 0, Optional.of(folder.resolve("demo")), ZoneOffset.UTC)) {
      String url = demo.page().web().uri().toString();
      demo.page().door().pair(demo.page().door().open(Role.FULL).text(), "old tablet");
      Until.within(
          Duration.ofMinutes(3),
          "the room is measured",
          () -> Typed.run("mix --amount 200ml --json --url " + url).out().contains("catalystMl"));
      Predicate<Line> last = line -> LAST.contains(line.name());
      for (Line line : all.stream().filter(last.negate()).toList()) {
        type(line, url);
      }
      for (Line line : all.stream().filter(last).toList()) {
        type(line, url);
      }
    }
  }

  private void type(Line line, String url) {
    List<String> words = typed(line, url);
    if (ENDLESS.contains(line.name())) {
      assertDoesNotThrow(
          () -> Layroom.commandLine().parseArgs(words.toArray(String[]::new)), line.toString());
      return;
    }
    Typed typed = Typed.run(words);
    boolean refused = REFUSED.keySet().stream().anyMatch(String.join(" ", words)::startsWith);
    assertEquals(refused ? 2 : 0, typed.status(), line + "\n" + typed.out() + typed.err());
  }
}
