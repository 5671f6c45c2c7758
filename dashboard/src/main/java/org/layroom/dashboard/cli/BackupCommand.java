package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.backup.BackupFailure;
import org.layroom.dashboard.backup.Manifest;
import org.layroom.dashboard.backup.Restore;
import org.layroom.predictor.limits.Refusal;
import org.tinylog.Logger;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code layroom backup}: everything that the running dashboard keeps, in one checked file. */
@Command(
    name = "backup",
    mixinStandardHelpOptions = true,
    description =
        "Saves readings, parts, warnings, settings of the rooms and your own materials in one file,"
            + " while the dashboard runs.",
    footer = {
      "",
      "  layroom backup /media/stick/layroom-2026-03-08.zip",
      "",
      "Passwords, keys and sessions are left out: after a restore on another machine devices and",
      "tablets are paired again. The file is not encrypted: keep it where you keep your papers."
    })
final class BackupCommand extends AnswerCommand {
  @Parameters(paramLabel = "FILE.zip", description = "Where to.")
  Path file = Path.of("layroom.zip");

  @Option(names = "--replace", description = "Overwrite the file if there is one.")
  boolean replace;

  @Option(
      names = "--url",
      paramLabel = "URL",
      description = "Where the running dashboard is (default: ${DEFAULT-VALUE}).",
      defaultValue = "http://localhost:8080/")
  URI url = URI.create("http://localhost:8080/");

  @Override
  Answer answer() throws Failure {
    Path place = file.toAbsolutePath();
    if (Files.exists(place) && !replace) {
      String words = "FILE.zip: " + place + " exists. Choose another name, or say --replace.";
      throw new Refused(new Refusal("file", place.toString(), "", words));
    }
    Path fresh = place.resolveSibling(place.getFileName() + ".new");
    try {
      long bytes = new RunningDashboard(url).save("api/backup", Map.of(), fresh);
      Manifest manifest =
          Restore.check(fresh, Optional.ofNullable(place.getParent()).orElse(place));
      Files.move(fresh, place, StandardCopyOption.REPLACE_EXISTING);
      return answer(place, bytes, manifest);
    } catch (BackupFailure e) {
      throw new Failure(String.valueOf(e.getMessage()), e);
    } catch (IOException e) {
      throw new Failure("The backup " + place + " cannot be written: " + e, e);
    } finally {
      discard(fresh);
    }
  }

  private static void discard(Path file) {
    try {
      Files.deleteIfExists(file);
    } catch (IOException e) {
      Logger.debug(e, "The file {} stays", file);
    }
  }

  private static Answer answer(Path place, long bytes, Manifest manifest) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("file", place.toString()).put("bytes", bytes).put("made", manifest.made());
    json.put("files", manifest.files().size());
    Answer.outcome(json, List.of(), List.of());
    List<String> lines =
        List.of(
            "Saved " + place + ", " + bytes + " bytes; read back, and every checksum is right.",
            "Passwords, keys and sessions are not in it. Keep it on another disk.");
    return new Answer(json, lines, false);
  }
}
