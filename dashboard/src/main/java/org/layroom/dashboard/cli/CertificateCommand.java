package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.access.HostNames;
import org.layroom.dashboard.access.LocalAuthority;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.dashboard.config.Settings;
import org.layroom.predictor.limits.Refusal;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** {@code layroom certificate}: a certificate for this house, so that the page goes over TLS. */
@Command(
    name = "certificate",
    mixinStandardHelpOptions = true,
    description =
        "Makes a certificate for this network and prints the settings for it. The signing key"
            + " is not kept.",
    footer = {
      "",
      "  layroom certificate --config /etc/layroom/dashboard.properties --name layroom.home.arpa"
    })
final class CertificateCommand extends AnswerCommand {
  @Option(names = "--config", paramLabel = "FILE", description = "The dashboard's settings.")
  Optional<Path> config = Optional.empty();

  @Option(
      names = "--name",
      paramLabel = "NAME",
      description =
          "Host name or IPv4 address of this machine; repeat for more (default: all its names"
              + " and addresses).")
  List<String> names = new ArrayList<>();

  @Override
  Answer answer() throws StartFailure {
    for (String name : names) {
      if (!HostNames.canBe(name)) {
        throw new RefusedInput(
            new Refusal(
                "name", name, "", "--name: \"" + name + "\" is not a host name or IPv4 address."));
      }
    }
    Settings settings = ServeCommand.settings(config);
    List<String> all = new ArrayList<>(names);
    if (all.isEmpty()) {
      all.addAll(HostNames.of(settings.house().names()).reachedBy());
    }
    try {
      return answer(LocalAuthority.make(settings.data().resolve("access"), all), settings);
    } catch (IOException e) {
      throw new StartFailure("The certificate cannot be made: " + e.getMessage(), e);
    }
  }

  private static Answer answer(LocalAuthority made, Settings settings) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("certificate", made.store().toAbsolutePath().toString());
    json.put("passwordFile", made.passwordFile().toAbsolutePath().toString());
    json.put("authority", made.authority().toAbsolutePath().toString());
    json.put("days", LocalAuthority.DAYS);
    made.names().forEach(json.putArray("names")::add);
    Answer.outcome(json, List.of(), List.of());
    return new Answer(json, lines(made, settings), false);
  }

  private static List<String> lines(LocalAuthority made, Settings settings) {
    Path store = made.store().toAbsolutePath();
    Path password = made.passwordFile().toAbsolutePath();
    List<String> lines =
        new ArrayList<>(
            List.of(
                "A certificate for %s, good for %d days."
                    .formatted(String.join(", ", made.names()), LocalAuthority.DAYS),
                "For the page, add these settings and restart:",
                "    https.certificate=" + store,
                "    https.password-file=" + password,
                "The page is then https://NAME:%d/ on other devices (if http.address allows it) and still http://localhost:%d/ here."
                    .formatted(settings.house().httpsPort(), settings.http().port()),
                "To make browsers trust it, install this file on each tablet as a certificate"
                    + " authority:",
                "    " + made.authority().toAbsolutePath()));
    if (settings.broker().isEmpty()) {
      int port = settings.embeddedBroker().port();
      lines.addAll(
          List.of(
              "For the built-in broker, with the same certificate:",
              "    broker.certificate=" + store,
              "    broker.certificate-password-file=" + password,
              "The broker then refuses unencrypted connections. On each device, copy that"
                  + " authority and set:",
              "    broker.uri=mqtts://NAME:" + (port == 0 ? "PORT" : port),
              "    broker.ca-file=/etc/layroom/" + made.authority().getFileName()));
    }
    return lines;
  }
}
