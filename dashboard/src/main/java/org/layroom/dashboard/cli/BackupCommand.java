package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.dashboard.backup.BackupFailure;
import org.layroom.dashboard.backup.Manifest;
import org.layroom.dashboard.backup.Restore;
import org.layroom.predictor.limits.Refusal;
import org.tinylog.Logger;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code layroom backup}: everything that the running dashboard keeps, in one checked file. */
@Command(
    name = "backup",
    mixinStandardHelpOptions = true,
    description =
        "Saves readings, parts, warnings, room settings and your own materials in one file"
            + " while the dashboard runs.",
    footer = {
      "",
      "  layroom backup /media/stick/layroom-2026-03-08.zip",
      "",
      "Passwords, keys and sessions are not included: after a restore on another machine,"
          + " devices and",
      "tablets must be paired again. The file is not encrypted: keep it in a safe place."
    })
final class BackupCommand extends AnswerCommand {
  @Parameters(paramLabel = "FILE.zip", description = "File to write.")
  Path file = Path.of("layroom.zip");

  @Option(names = "--replace", description = "Overwrite an existing file.")
  boolean replace;

  @Mixin DashboardChoice dashboard = new DashboardChoice();

  @Override
  Answer answer() throws StartFailure {
    Path place = file.toAbsolutePath();
    if (Files.exists(place) && !replace) {
      String words = "FILE.zip: " + place + " exists. Choose another name, or add --replace.";
      throw new RefusedInput(new Refusal("file", place.toString(), "", words));
    }
    Path fresh = place.resolveSibling(place.getFileName() + ".new");
    try {
      long bytes = dashboard.client().save("api/backup", Map.of(), fresh);
      Manifest manifest =
          Restore.check(fresh, Optional.ofNullable(place.getParent()).orElse(place));
      Files.move(fresh, place, StandardCopyOption.REPLACE_EXISTING);
      return answer(place, bytes, manifest);
    } catch (BackupFailure e) {
      throw new StartFailure(String.valueOf(e.getMessage()), e);
    } catch (IOException e) {
      throw new StartFailure("The backup " + place + " cannot be written: " + e, e);
    } finally {
      discard(fresh);
    }
  }

  private static void discard(Path file) {
    try {
      Files.deleteIfExists(file);
    } catch (IOException e) {
      Logger.debug(e, "The file {} could not be deleted", file);
    }
  }

  private static Answer answer(Path place, long bytes, Manifest manifest) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("file", place.toString()).put("bytes", bytes).put("made", manifest.made());
    json.put("files", manifest.files().size());
    Answer.outcome(json, List.of(), List.of());
    List<String> lines =
        List.of(
            "Saved " + place + ", " + bytes + " bytes. Read back; all checksums match.",
            "Passwords, keys and sessions are not included. Keep the backup on another disk.");
    return new Answer(json, lines, false);
  }
}
