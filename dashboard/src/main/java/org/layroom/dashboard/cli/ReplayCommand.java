package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.URI;
import java.nio.file.Path;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Properties;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.Dashboard;
import org.layroom.dashboard.app.ScratchFolder;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.dashboard.config.InvalidSettings;
import org.layroom.dashboard.config.Settings;
import org.layroom.dashboard.config.SettingsFile;
import org.layroom.dashboard.recording.IsoTimes;
import org.layroom.dashboard.recording.UnusableRecording;
import org.layroom.dashboard.replay.RecordedAir;
import org.layroom.dashboard.replay.Replay;
import org.layroom.dashboard.replay.ReplayResult;
import org.layroom.dashboard.store.History;
import org.layroom.device.pace.RealPace;
import org.layroom.device.telemetry.Channel;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.vapor.CleanAirReading;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code layroom replay}: a recording through the real path, with a table of what is stored. */
@Command(
    name = "replay",
    mixinStandardHelpOptions = true,
    description = {
      "Runs a recording through simulated chips, the real drivers, outbox, broker and store,"
          + " with the clock set to the recording.",
      "Columns: time, temperature_degC, humidity_pctRH, optionally mold_temperature_degC,"
          + " resin_temperature_degC, voc_raw. An empty cell was not measured."
    })
final class ReplayCommand extends AnswerCommand {
  private static final int MOST_BAD_SHOWN = 20;

  @Parameters(paramLabel = "FILE.csv", description = "The recording.")
  Path file = Path.of("");

  @Option(
      names = "--speed",
      paramLabel = "N|max",
      defaultValue = "max",
      description =
          "Speed as a multiple of real time, or max (default). With a number, the"
              + " page shows the replay.")
  String speed = "max";

  @Option(
      names = "--zone",
      paramLabel = "ZONE",
      description = "Time zone of times without an offset, and of days (default: UTC).")
  ZoneId zone = ZoneOffset.UTC;

  @Option(
      names = "--clean-air",
      paramLabel = "RAW,TIME",
      description =
          "What the vapor sensor read in this room's clean air, and when, such as"
              + " 30120,2026-03-01T09:00. Without it the air is unknown.")
  String cleanAir = "";

  @Option(
      names = "--job",
      paramLabel = "FROM/TO",
      description = "A job with fan and respirator on; may be given several times.")
  List<String> jobs = new ArrayList<>();

  @Override
  Answer answer() throws StartFailure {
    Optional<CleanAirReading> clean = cleanAir();
    List<RecordedAir.RecordedJob> told = jobs.stream().map(this::job).toList();
    OptionalDouble factor = factor();
    try (ScratchFolder scratch = ScratchFolder.folder("layroom-replay", Optional.empty());
        RealPace real = new RealPace()) {
      Replay replay = Replay.of(file, zone);
      if (!replay.ignoredColumns().isEmpty()) {
        note("Unused columns: " + String.join(", ", replay.ignoredColumns()));
      }
      try (Dashboard running =
          Dashboard.start(
              settings(scratch.path()), replay.dashboardPace(), real, factor.orElse(1), false)) {
        if (factor.isPresent()) {
          note("Page: " + running.web().uri() + "?room=" + Replay.CHANNEL.room());
        }
        ReplayResult result =
            replay.run(target(running), scratch.path().resolve("outbox"), factor, real);
        return answer(result, alarms(clean, told));
      }
    } catch (UnusableRecording e) {
      throw new RefusedInput(
          new Refusal("file", file.toString(), "a recording", String.valueOf(e.getMessage())));
    } catch (IOException e) {
      throw new StartFailure("The replay cannot run: " + e.getMessage(), e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new StartFailure("The replay was interrupted.", e);
    }
  }

  private Optional<List<RecordedAir.Alarm>> alarms(
      Optional<CleanAirReading> clean, List<RecordedAir.RecordedJob> told)
      throws UnusableRecording {
    return RecordedAir.measured(file, zone)
        ? Optional.of(RecordedAir.of(file, zone, clean, told))
        : Optional.empty();
  }

  private Optional<CleanAirReading> cleanAir() {
    if (cleanAir.isEmpty()) {
      return Optional.empty();
    }
    String[] parts = cleanAir.split(",", 2);
    try {
      return Optional.of(
          CleanAirReading.of(Double.parseDouble(parts[0]), IsoTimes.parse(parts[1], zone)));
    } catch (IllegalArgumentException | ArrayIndexOutOfBoundsException e) {
      throw new RefusedInput(
          new Refusal(
              "clean-air",
              cleanAir,
              "RAW,TIME",
              "--clean-air: enter the raw signal, 1 to 65534, a comma and the time, such as"
                  + " 30120,2026-03-01T09:00."));
    }
  }

  private RecordedAir.RecordedJob job(String text) {
    String[] parts = text.split("/", 2);
    try {
      return new RecordedAir.RecordedJob(
          IsoTimes.parse(parts[0], zone), IsoTimes.parse(parts[1], zone));
    } catch (IllegalArgumentException | ArrayIndexOutOfBoundsException e) {
      throw new RefusedInput(
          new Refusal(
              "job",
              text,
              "FROM/TO",
              "--job: enter start and end with a slash between, such as"
                  + " 2026-03-02T10:00/2026-03-02T13:00."));
    }
  }

  private void note(String words) {
    spec.commandLine().getErr().println(words);
    spec.commandLine().getErr().flush();
  }

  private OptionalDouble factor() {
    if (speed.equals("max")) {
      return OptionalDouble.empty();
    }
    try {
      double factor = Double.parseDouble(speed);
      if (factor > 0 && factor <= 1e6) {
        return OptionalDouble.of(factor);
      }
    } catch (NumberFormatException e) {
      // said below, with what is wanted instead
    }
    throw new RefusedInput(
        new Refusal("speed", speed, "above 0, or max", "--speed: enter a number above 0, or max."));
  }

  private Settings settings(Path folder) throws StartFailure {
    Properties properties = new Properties();
    properties.setProperty("data", folder.resolve("dashboard").toAbsolutePath().toString());
    properties.setProperty("http.port", "0");
    properties.setProperty("room", Replay.CHANNEL.room().value());
    properties.setProperty("zone", zone.getId());
    try {
      return SettingsFile.of(properties, folder);
    } catch (InvalidSettings e) {
      throw new StartFailure(String.valueOf(e.getMessage()), e);
    }
  }

  private static Replay.Target target(Dashboard running) {
    return new Replay.Target() {
      @Override
      public URI brokerUri() {
        return running.core().brokerUri();
      }

      @Override
      public String pair(Channel channel) {
        return running.core().logins().pair(channel);
      }

      @Override
      public History history() {
        return running.core().store().history();
      }

      @Override
      public void commitSoon() {
        running.core().commitSoon();
      }
    };
  }

  private void alarms(List<RecordedAir.Alarm> alarms, ObjectNode json, List<String> words) {
    ArrayNode list = json.putArray("alarms");
    words.add("");
    words.add(
        alarms.isEmpty()
            ? "Warnings of the air by this rule: none. That does not mean that the air was good."
            : "Warnings of the air by this rule (nobody acknowledges, so leave stands):");
    for (RecordedAir.Alarm one : alarms) {
      String state = one.call().name().toLowerCase(Locale.ROOT);
      ObjectNode node = list.addObject().put("state", state).put("from", one.from().toString());
      one.until().ifPresent(until -> node.put("until", until.toString()));
      ArrayNode why = node.putArray("why");
      one.why().forEach(why::add);
      words.add(
          "  %-9s %s to %s: %s"
              .formatted(
                  state,
                  one.from().atZone(zone).toLocalDateTime(),
                  one.until()
                      .map(until -> until.atZone(zone).toLocalDateTime().toString())
                      .orElse("the end"),
                  String.join(" ", one.why())));
    }
  }

  private Answer answer(ReplayResult result, Optional<List<RecordedAir.Alarm>> alarms)
      throws StartFailure {
    if (!result.complete()) {
      throw new StartFailure(
          "%2$d of %1$d rows are stored: the replay is not complete."
              .formatted(result.rows(), result.stored()));
    }
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("rows", result.rows()).put("stored", result.stored());
    json.put("badRows", result.bad().size());
    ArrayNode days = json.putArray("days");
    List<String> words = new ArrayList<>();
    words.add(
        "%d rows measured, %d stored, each once; %d bad rows skipped"
            .formatted(result.rows(), result.stored(), result.bad().size()));
    result.bad().stream().limit(MOST_BAD_SHOWN).forEach(bad -> words.add("  " + bad));
    if (result.bad().size() > MOST_BAD_SHOWN) {
      words.add("  … and " + (result.bad().size() - MOST_BAD_SHOWN) + " more (all with --json)");
    }
    words.add("");
    words.add("From the store, with the largest difference from the file:");
    words.add(
        "%-11s %-17s %6s %10s %10s %10s %12s"
            .formatted("day", "series", "n", "min", "mean", "max", "difference"));
    for (ReplayResult.DayLine day : result.days()) {
      ReplayResult.Figures store = day.store();
      words.add(
          String.format(
              Locale.ROOT,
              "%-11s %-17s %6d %10.3f %10.3f %10.3f %9.4f %s",
              day.day(),
              day.series(),
              store.n(),
              store.min(),
              store.mean(),
              store.max(),
              day.largestDifference(),
              day.unit()));
      days.addObject()
          .put("day", day.day().toString())
          .put("series", day.series())
          .put("n", store.n())
          .put("min", store.min())
          .put("mean", store.mean())
          .put("max", store.max())
          .put("largestDifference", day.largestDifference());
    }
    alarms.ifPresent(all -> alarms(all, json, words));
    Answer.outcome(
        json,
        List.of(),
        result.bad().stream()
            .map(bad -> new Warning("line " + bad.line(), "", "", bad.toString()))
            .toList());
    return new Answer(json, words, false);
  }
}
