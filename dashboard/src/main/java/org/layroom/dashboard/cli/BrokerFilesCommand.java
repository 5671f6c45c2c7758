package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.device.files.WholeFile;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code layroom broker-files}: what a mosquitto of the shop's own needs to know the devices. */
@Command(
    name = "broker-files",
    mixinStandardHelpOptions = true,
    description =
        "Writes password file, access list and settings for your own mosquitto broker: the"
            + " dashboard and every paired device, each with its own topics.",
    footer = {
      "",
      "  sudo layroom broker-files /etc/mosquitto/conf.d",
      "  sudo systemctl reload mosquitto",
      "",
      "Run it again after each pairing or revoking, and reload: mosquitto then ends the",
      "connections of clients that are no longer in the password file."
    })
final class BrokerFilesCommand extends AnswerCommand {
  @Parameters(
      paramLabel = "DIR",
      description = "Folder to write to, created if missing; mosquitto must be able to read it.")
  Path folder = Path.of(".");

  @Mixin DashboardChoice dashboard = new DashboardChoice();

  @Override
  Answer answer() throws StartFailure {
    ObjectNode files = dashboard.client().get("api/broker-files", Map.of());
    Path home = folder.toAbsolutePath().normalize();
    Path passwords = home.resolve("layroom.passwd");
    Path access = home.resolve("layroom.acl");
    try {
      Files.createDirectories(home);
      write(passwords, files.path("passwords").asText());
      write(access, files.path("access").asText());
      write(home.resolve("layroom.conf"), settings(passwords, access));
    } catch (IOException e) {
      throw new StartFailure("The files cannot be written in " + home + ": " + e, e);
    }
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("passwords", passwords.toString()).put("access", access.toString());
    json.put("settings", home.resolve("layroom.conf").toString());
    Answer.outcome(json, List.of(), List.of());
    return new Answer(json, lines(home, files.path("ownPasswordFile").asText()), false);
  }

  private static List<String> lines(Path home, String ownPassword) {
    return List.of(
        "Wrote layroom.passwd, layroom.acl and layroom.conf in " + home + ".",
        "The user that mosquitto runs as must be able to read them: sudo chown mosquitto: "
            + home.resolve("layroom.*"),
        "Let mosquitto read them (sudo systemctl reload mosquitto; the first time: restart).",
        "In dashboard.properties: broker.uri, broker.user=layroom-dashboard and"
            + " broker.password-file="
            + ownPassword);
  }

  private static String settings(Path passwords, Path access) {
    return """
        # Made by Layroom. A listener of your own says where mosquitto listens.
        allow_anonymous false
        password_file %s
        acl_file %s
        # Nobody takes another's session by its client id.
        use_username_as_clientid true
        message_size_limit 65536
        autosave_interval 30
        """
        .formatted(passwords, access);
  }

  /** For the owner alone; whoever owns the one before keeps it. */
  private static void write(Path file, String text) throws IOException {
    byte[] content = text.getBytes(StandardCharsets.UTF_8);
    if (Files.exists(file)) {
      WholeFile.replacePrivate(file, content, Files.getOwner(file));
    } else {
      WholeFile.replacePrivate(file, content);
    }
  }
}
