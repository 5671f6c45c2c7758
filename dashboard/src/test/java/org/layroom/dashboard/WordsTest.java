package org.layroom.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * What the programs say: words that were replaced do not come back, neither on the page nor in a
 * sentence composed in Java. Each old word (a regular expression) stands with the new one beside
 * it.
 */
class WordsTest {
  private static final Path PAGE =
      Path.of("src", "main", "resources", "org", "layroom", "dashboard", "web", "page");
  private static final List<Path> SOURCES =
      List.of(
          Path.of("src", "main", "java"),
          Path.of("..", "device", "src", "main", "java"),
          Path.of("..", "predictor", "src", "main", "java"));

  private static final Map<String, String> INSTEAD =
      new TreeMap<>(
          Map.ofEntries(
              Map.entry("Put this away", "Hide"),
              Map.entry("Go there", "Set up"),
              Map.entry("That is my can", "Use this material"),
              Map.entry("Who may come in", "Access"),
              Map.entry("Put out\\b", "Remove"),
              Map.entry("Take it back", "Cancel code"),
              Map.entry("for across the room", "Wall view"),
              Map.entry("In sight", "Range"),
              Map.entry("\"(these hours|a day|to the last demold)\"", "12 h, 2 days, To demold"),
              Map.entry("\"(Closer|Wider|Earlier|Later)\"", "Zoom in, Zoom out, Back, Forward"),
              Map.entry("Back to now", "Now"),
              Map.entry("Take away", "Export"),
              Map.entry("[Hh]ave seen it", "Acknowledge"),
              Map.entry("[Ss]een by", "Acknowledged by"),
              Map.entry("[Ll]eave it out|[Ll]eft out", "Skip step; skipped"),
              Map.entry("[Gg]ive .* up\\b|[Gg]iven up", "Cancel part; canceled"),
              Map.entry("It is on now", "Applied"),
              Map.entry("Type the temperatures", "Enter temperatures by hand"),
              Map.entry("[Tt]ype it in|[Tt]yped in", "enter it"),
              Map.entry("How well the room airs", "Ventilation"),
              Map.entry("What measures the air", "Vapor sensor and limit"),
              Map.entry("off the shelf", "Archive"),
              Map.entry("Keep it[:\"]|\"Decide\"|Write (it |the check )?down", "Save"),
              Map.entry("(not in|out of|into) sight", "over 3 days"),
              Map.entry("\"over 3 days\"", "once warmed: a later time has its date"),
              Map.entry("Aired:", "Air:"),
              Map.entry("\"Cans\"|>Cans<|>Log<|\"Log\"", "Materials; Finished"),
              Map.entry("on (its|their) way", "in progress"),
              Map.entry("comes? in (to the page|any more|without|at)", "has access; can connect"),
              Map.entry("new readings come", "no new readings"),
              Map.entry("let(s|ting)? .* in\\b(?= here|\\.| needs)", "pair; give access"),
              Map.entry("[Uu]pstairs", "the dashboard"),
              Map.entry("(is|are) told", "say what happens: is sent, is shown"),
              Map.entry("[Ll]eft-over", "leftover"),
              Map.entry("over the dew point", "above the dew point"),
              Map.entry("%s K\\b|\\d K\\b| K per hour", "°C (a difference)"),
              Map.entry("degree-hours", "°C·h, or hours at 20 °C"),
              Map.entry("times the likely one", "times the likely time"),
              Map.entry("GET says", "what the person is to do"),
              Map.entry("elsewhere in the house|this house", "on the network; this shop"),
              Map.entry("(?<!-)\\banew\\b", "again; restart"),
              Map.entry("ha(ve|s) the last word", "decides"),
              Map.entry("there is no such field|no such (room|material);", "unknown"),
              Map.entry("[ap]\\.m\\.|HH:mm", "7:44 PM, by ClockTimes"),
              Map.entry("\"Mind", "Note"),
              Map.entry("Somebody is paired|Nobody is paired", "No devices are paired")));

  @Test
  void thePageSaysTheNewWords() throws IOException {
    List<String> found = new ArrayList<>();
    for (Path file : files(PAGE, ".js", ".html")) {
      found.addAll(oldWords(file, withoutComments(Files.readString(file))));
    }
    assertEquals(List.of(), found);
  }

  @Test
  void theSentencesComposedInJavaSayTheNewWords() throws IOException {
    List<String> found = new ArrayList<>();
    for (Path folder : SOURCES) {
      for (Path file : files(folder, ".java")) {
        found.addAll(oldWords(file, literals(Files.readString(file))));
      }
    }
    assertEquals(List.of(), found);
  }

  /** One rule for clock times: one class and one module know it. */
  @Test
  void clockTimesAreComposedInOnePlaceEach() throws IOException {
    List<String> found = new ArrayList<>();
    for (Path file : files(PAGE, ".js")) {
      boolean composes =
          Pattern.compile("DateTimeFormat|toLocale(Date|Time)?String")
              .matcher(withoutComments(Files.readString(file)))
              .find();
      if (composes) {
        found.add(file.getFileName().toString());
      }
    }
    for (Path folder : SOURCES) {
      for (Path file : files(folder, ".java")) {
        if (Pattern.compile("\"[^\"]*[hH]:mm[^\"]*\"").matcher(Files.readString(file)).find()) {
          found.add(file.getFileName().toString());
        }
      }
    }
    assertEquals(List.of("words.js", "ClockTimes.java"), found);
  }

  @Test
  void anOldWordIsFoundAcrossTheLinesOfOneSentence() {
    String source =
        """
        /* upstairs in a comment is no sentence */
        String words = "The dish is not in"
            + " sight. // no comment"; // left-over
        """;
    assertEquals(
        List.of("A.java: \"not in sight\" (instead: over 3 days)"),
        oldWords(Path.of("A.java"), literals(source)));
  }

  private static List<Path> files(Path folder, String... endings) throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      List<Path> files =
          all.filter(file -> Stream.of(endings).anyMatch(file.toString()::endsWith))
              .sorted()
              .toList();
      assertFalse(files.isEmpty(), "no sources in " + folder.toAbsolutePath());
      return files;
    }
  }

  private static List<String> oldWords(Path file, String text) {
    List<String> found = new ArrayList<>();
    INSTEAD.forEach(
        (old, instead) -> {
          Matcher matcher = Pattern.compile(old).matcher(text);
          if (matcher.find()) {
            found.add(
                file.getFileName() + ": \"" + matcher.group() + "\" (instead: " + instead + ")");
          }
        });
    return found;
  }

  private static String withoutComments(String source) {
    return Pattern.compile("(?s)/\\*.*?\\*/|(?<![:\\\\\"'])//[^\\n]*|<!--.*?-->")
        .matcher(source)
        .replaceAll("");
  }

  /** The string literals of a Java source, one a line, those that are added up joined. */
  private static String literals(String source) {
    StringBuilder literals = new StringBuilder();
    Matcher token =
        Pattern.compile(
                "(?s)/\\*.*?\\*/|//[^\\n]*|'(?:[^'\\\\]|\\\\.)+'"
                    + "|\"\"\"(.*?)\"\"\"|\"((?:[^\"\\\\]|\\\\.)*)\"(\\s*\\+\\s*(?=\"))?")
            .matcher(source);
    while (token.find()) {
      if (token.group(1) != null) {
        literals.append('"').append(token.group(1)).append("\"\n");
      } else if (token.group(2) != null) {
        boolean begins = literals.isEmpty() || literals.charAt(literals.length() - 1) == '\n';
        literals.append(begins ? "\"" : "").append(token.group(2));
        literals.append(token.group(3) == null ? "\"\n" : "");
      }
    }
    return literals.toString();
  }
}
