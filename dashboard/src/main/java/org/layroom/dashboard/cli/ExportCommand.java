package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.stream.Stream;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.dashboard.recording.IsoTimes;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.limits.Warning;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** {@code layroom export}: readings or parts of the running dashboard as CSV or JSON. */
@Command(
    name = "export",
    mixinStandardHelpOptions = true,
    description = "Saves a room's readings or parts from the running dashboard as CSV or JSON.",
    footer = {
      "",
      "  layroom export --from 2026-03-01 --to 2026-03-08 --out week.csv",
      "  layroom export --what jobs --out parts.csv",
      "",
      "  layroom export --what jobs --format json --out parts.json",
      "",
      "Readings as CSV can be used by forecast, plan and replay."
    })
final class ExportCommand extends AnswerCommand {
  @Mixin RoomChoice watched = new RoomChoice();

  @Option(
      names = "--what",
      paramLabel = "WHAT",
      defaultValue = "readings",
      description = "readings or jobs (default: ${DEFAULT-VALUE}).")
  String what = "readings";

  @Option(
      names = "--format",
      paramLabel = "FORMAT",
      defaultValue = "csv",
      description = "csv or json (default: ${DEFAULT-VALUE}).")
  String format = "csv";

  @Option(
      names = "--from",
      paramLabel = "TIME",
      description = "First time or day, ISO 8601 (default: 7 days before --to).")
  Optional<String> from = Optional.empty();

  @Option(
      names = "--to",
      paramLabel = "TIME",
      description = {
        "End, ISO 8601: a time, not included, or a day, included as a whole (default: now)."
      })
  Optional<String> to = Optional.empty();

  @Option(
      names = "--zone",
      paramLabel = "ZONE",
      description = "Time zone of days and of times without an offset (default: UTC).")
  ZoneId zone = ZoneOffset.UTC;

  @Option(names = "--out", paramLabel = "FILE", required = true, description = "File to write.")
  Path out = Path.of("layroom.csv");

  private String time(String option, String text, BiFunction<String, ZoneId, Instant> reading) {
    try {
      return reading.apply(text, zone).toString();
    } catch (IllegalArgumentException e) {
      throw new RefusedInput(
          new Refusal(option, text, "ISO 8601", "--" + option + ": " + e.getMessage()));
    }
  }

  @Override
  Answer answer() throws StartFailure {
    Map<String, List<String>> parameters = new LinkedHashMap<>();
    parameters.put("what", List.of(what));
    parameters.put("format", List.of(format));
    from.ifPresent(text -> parameters.put("from", List.of(time("from", text, IsoTimes::start))));
    to.ifPresent(text -> parameters.put("to", List.of(time("to", text, IsoTimes::end))));
    watched.room.ifPresent(room -> parameters.put("room", List.of(room)));
    Path file = out.toAbsolutePath();
    long bytes = watched.client().save("api/export", parameters, file);
    List<Warning> warnings = empty(file) ? List.of(nothingFound()) : List.of();
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("file", file.toString()).put("bytes", bytes);
    Answer.outcome(json, List.of(), warnings);
    List<String> words = new ArrayList<>(List.of("Saved " + file + ", " + bytes + " bytes."));
    warnings.forEach(warning -> words.add(warning.reason()));
    return new Answer(json, words, false);
  }

  private boolean empty(Path file) throws StartFailure {
    if (!format.equals("csv")) {
      return false;
    }
    try (Stream<String> lines = Files.lines(file)) {
      return lines.skip(1).findFirst().isEmpty();
    } catch (IOException e) {
      throw new StartFailure("Cannot read " + file + " again: " + e.getMessage(), e);
    }
  }

  private Warning nothingFound() {
    return new Warning(
        "from",
        from.orElse(""),
        "",
        "There are no "
            + (what.equals("jobs") ? "parts" : "readings")
            + " in this time, so the file holds only the names of its columns. Check --from, --to,"
            + " --zone and --room.");
  }
}
