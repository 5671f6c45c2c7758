package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.dashboard.backup.BackupFailure;
import org.layroom.dashboard.backup.Restore;
import org.layroom.dashboard.config.Settings;
import org.layroom.predictor.limits.Refusal;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code layroom restore}: puts a backup back, on this machine or a new one. */
@Command(
    name = "restore",
    mixinStandardHelpOptions = true,
    description =
        "Restores a backup into the data folder of a stopped dashboard. Everything is checked"
            + " before anything is changed. Existing data are moved aside, never overwritten.",
    footer = {
      "",
      "  layroom restore layroom-2026-03-08.zip --config /etc/layroom/dashboard.properties",
      "  layroom restore layroom-2026-03-08.zip --data new-home"
    })
final class RestoreCommand extends AnswerCommand {
  @Parameters(paramLabel = "FILE.zip", description = "A backup file made by \"layroom backup\".")
  Path file = Path.of("layroom.zip");

  @Option(names = "--config", paramLabel = "FILE", description = "The dashboard's settings.")
  Optional<Path> config = Optional.empty();

  @Option(
      names = "--data",
      paramLabel = "DIR",
      description = "The data folder, instead of the one in the settings.")
  Optional<Path> data = Optional.empty();

  @Option(names = "--replace", description = "Move an existing store aside and restore over it.")
  boolean replace;

  @Override
  Answer answer() throws StartFailure {
    Settings settings = ServeCommand.settings(config);
    Path home = data.orElse(settings.data()).toAbsolutePath();
    Path materials = data.map(dir -> dir.resolve("materials")).orElse(settings.materials());
    try {
      return answer(home, Restore.into(file, home, materials.toAbsolutePath(), replace));
    } catch (BackupFailure e) {
      throw new RefusedInput(
          new Refusal("file", file.toString(), "", String.valueOf(e.getMessage())));
    }
  }

  private static Answer answer(Path home, Restore.Done done) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("data", home.toString()).put("made", done.manifest().made());
    ArrayNode aside = json.putArray("setAside");
    done.setAside().forEach(old -> aside.add(old.toString()));
    ObjectNode settings = json.putObject("settings");
    done.manifest().settings().forEach(settings::put);
    Answer.outcome(json, List.of(), List.of());
    List<String> lines = new ArrayList<>();
    lines.add("Restored into " + home + " as it was on " + done.manifest().made() + ".");
    done.setAside().forEach(old -> lines.add("Moved aside: " + old));
    lines.add("It ran with " + new TreeMap<>(done.manifest().settings()) + ".");
    lines.add("Passwords are not in a backup. On another machine, pair devices and tablets again.");
    return new Answer(json, lines, false);
  }
}
