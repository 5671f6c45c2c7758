package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;

/**
 * Exit codes, and fields of {@code --json} answers with their types, from commands that are really
 * run. Questions and recordings are invented.
 */
final class AnswerNames {
  private static final Instant START = Instant.parse("2026-02-02T00:00:00Z");
  private static final String AT = " --at 2026-02-07T18:00Z";

  private final Path history;
  private final Map<String, Set<String>> types = new TreeMap<>();
  private final Set<String> exits = new TreeSet<>();

  private AnswerNames(Path history) {
    this.history = history;
  }

  /**
   * Asks everything.
   *
   * @param folder for recordings
   */
  static Set<String> all(Path folder) throws IOException {
    AnswerNames names = new AnswerNames(room(folder));
    names.askForAnswers();
    names.askForRefusals(folder);
    Set<String> all = new TreeSet<>(names.exits);
    names.types.forEach((field, kinds) -> all.add(field + " " + String.join("|", kinds)));
    return all;
  }

  /** Six days that swing by 4 K, warmest at 3 p.m., with a mold as warm as the air. */
  private static Path room(Path folder) throws IOException {
    StringBuilder text = new StringBuilder("time,temperature_degC,mold_temperature_degC\n");
    for (int minute = 0; minute < 6 * 1440; minute += 10) {
      double air = 20 + 4 * Math.cos(2 * Math.PI * (minute / 60.0 - 15) / 24);
      Instant time = START.plus(Duration.ofMinutes(minute));
      text.append(String.format(Locale.ROOT, "%s,%.2f,%.2f%n", time, air, air));
    }
    return Files.writeString(folder.resolve("room.csv"), text);
  }

  private void askForAnswers() throws IOException {
    String warm = " --mold-temp 20C --resin-temp 20C";
    answered("mix", "mix --material gp-resin --amount 200ml --working-time 15min" + warm);
    answered("mix", "mix --material iso-gel-coat --area 0.8m2 --film 0.5mm --dose 1.8%" + warm);
    answered(
        "mix",
        "mix --material gp-resin --amount 9kg --dose 1% --gel-test cup,20C,1.5%,26min"
            + " --outcome soft,8h,20C --thickness 5mm --mold-kind wood"
            + warm);
    String room = "check --material gp-resin --mold-temp ";
    answered("check", room + "21C --air-temp 21C --humidity 50%");
    answered("check", room + "8C --air-temp 8C --humidity 90%");
    answered("check", room + "20C --air-temp 20C --humidity 84%");
    answered("check", room + "21C --air-temp 21C --humidity 50% --mold-wet");
    answered("cure", "cure --material gp-resin --dose 1.5% --temps " + history);
    Path shortRecord =
        Files.writeString(
            history.resolveSibling("short.csv"),
            "time,temperature_degC\n2026-01-05T08:00Z,20\n2026-01-05T12:00Z,20\n");
    answered("cure", "cure --material gp-resin --dose 1.5% --temps " + shortRecord);
    answered("cure", "cure --material iso-gel-coat --dose 1.8% --still-wet --temps " + history);
    String layup =
        "fumes --resin 2kg --styrene 42% --volume 40m3 --working-time 30min --gel-time 75min";
    answered("fumes", layup + " --air-changes 6");
    answered("fumes", layup + " --air-changes 60");
    answered("fumes", layup + " --air-changes 0 --gel-coat 0.5kg --gel-coat-styrene 33%");
    answered("forecast", "forecast --hours 72" + AT + " --history " + history);
    answered(
        "plan", "plan --material iso-gel-coat --material gp-resin" + AT + " --history " + history);
  }

  private void askForRefusals(Path folder) throws IOException {
    String mix = "mix --material gp-resin --amount 200ml --mold-temp 20C --dose ";
    refused("mix", "a dose outside the can's limits", mix + "9%");
    refused("check", "no such material", "check --material no-such-can --mold-temp 20C");
    refused(
        "cure",
        "no such file",
        "cure --material gp-resin --dose 1.5% --temps " + folder.resolve("none.csv"));
    refused("fumes", "no such option", "fumes --no-such-option 1");
    Path hour =
        Files.writeString(
            folder.resolve("hour.csv"),
            "time,temperature_degC\n2026-02-02T00:00Z,20\n2026-02-02T01:00Z,20\n");
    refused(
        "forecast",
        "too short a history",
        "forecast --hours 72 --at 2026-02-02T01:00Z --history " + hour);
    refused(
        "plan",
        "too short a history",
        "plan --material gp-resin --at 2026-02-02T01:00Z --history " + hour);
    Typed nobody = Typed.run("export --url http://127.0.0.1:9 --out " + folder.resolve("out.csv"));
    exits.add("exit " + nobody.status() + " export: no dashboard answers there");
  }

  private void answered(String command, String line) throws IOException {
    Typed typed = Typed.run(line + " --json");
    assertEquals("", typed.status() == 0 ? "" : line + ": " + typed.err());
    exits.add("exit " + typed.status() + " " + command + ": answered");
    JsonNode answer = JsonMapper.builder().build().readTree(typed.out());
    if (command.equals("check")) {
      exits.add("exit " + typed.status() + " check: " + answer.path("verdict").asText());
      exits.add("value check verdict " + answer.path("verdict").asText());
    }
    for (JsonNode stage : answer.path("stages")) {
      exits.add("value " + command + " stage " + stage.path("stage").asText());
    }
    collect("json " + command + " ", answer);
  }

  private void refused(String command, String why, String line) throws IOException {
    Typed typed = Typed.run(line + " --json");
    exits.add("exit " + typed.status() + " " + command + ": " + why);
    collect("json " + command + " ", JsonMapper.builder().build().readTree(typed.out()));
  }

  private void collect(String path, JsonNode node) {
    if (node.isObject()) {
      node.properties()
          .forEach(
              field -> {
                String name = path + field.getKey();
                kind(name, field.getValue());
                collect(name + (field.getValue().isArray() ? "" : "."), field.getValue());
              });
    } else if (node.isArray()) {
      for (JsonNode element : node) {
        kind(path + "[]", element);
        collect(path + (element.isArray() ? "[]" : "[]."), element);
      }
    }
  }

  private void kind(String name, JsonNode value) {
    types
        .computeIfAbsent(name, any -> new TreeSet<>())
        .add(value.getNodeType().toString().toLowerCase(Locale.ROOT));
  }
}
