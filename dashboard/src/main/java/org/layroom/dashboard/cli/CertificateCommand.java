package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.config.Settings;
import org.layroom.dashboard.door.HouseNames;
import org.layroom.dashboard.door.PrivateCertificate;
import org.layroom.predictor.limits.Refusal;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** {@code layroom certificate}: a certificate for this house, so that the page goes over TLS. */
@Command(
    name = "certificate",
    mixinStandardHelpOptions = true,
    description =
        "Makes a certificate for this house alone and says what to write into the settings. Its"
            + " signing key is thrown away.",
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
          "A name or IPv4 address that it is reached by; again for more (default: this machine's"
              + " names and addresses).")
  List<String> names = new ArrayList<>();

  @Override
  Answer answer() throws Failure {
    for (String name : names) {
      if (!HouseNames.canBe(name)) {
        throw new Refused(
            new Refusal(
                "name", name, "", "--name: \"" + name + "\" is no host name or IPv4 address."));
      }
    }
    Settings settings = ServeCommand.settings(config);
    List<String> all = new ArrayList<>(names);
    if (all.isEmpty()) {
      all.addAll(HouseNames.of(settings.house().names()).reachedBy());
    }
    try {
      return answer(PrivateCertificate.make(settings.data().resolve("access"), all), settings);
    } catch (IOException e) {
      throw new Failure("The certificate cannot be made: " + e.getMessage(), e);
    }
  }

  private static Answer answer(PrivateCertificate made, Settings settings) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("certificate", made.store().toAbsolutePath().toString());
    json.put("passwordFile", made.passwordFile().toAbsolutePath().toString());
    json.put("authority", made.authority().toAbsolutePath().toString());
    json.put("days", PrivateCertificate.DAYS);
    made.names().forEach(json.putArray("names")::add);
    Answer.outcome(json, List.of(), List.of());
    return new Answer(json, lines(made, settings), false);
  }

  private static List<String> lines(PrivateCertificate made, Settings settings) {
    Path store = made.store().toAbsolutePath();
    Path password = made.passwordFile().toAbsolutePath();
    List<String> lines =
        new ArrayList<>(
            List.of(
                "A certificate for %s, good for %d days."
                    .formatted(String.join(", ", made.names()), PrivateCertificate.DAYS),
                "For the page write into the settings, and start anew:",
                "    https.certificate=" + store,
                "    https.password-file=" + password,
                "Then it is https://NAME:%d/ elsewhere (where http.address lets it), and stays http://localhost:%d/ here."
                    .formatted(settings.house().httpsPort(), settings.http().port()),
                "So that browsers know it, install this one on each tablet, as an authority:",
                "    " + made.authority().toAbsolutePath()));
    if (settings.broker().isEmpty()) {
      int port = settings.embeddedBroker().port();
      lines.addAll(
          List.of(
              "For the broker that devices come in at, with the same certificate:",
              "    broker.certificate=" + store,
              "    broker.certificate-password-file=" + password,
              "Then write on each device, which is not let in without encryption any more, with a copy of that authority:",
              "    broker.uri=mqtts://NAME:" + (port == 0 ? "PORT" : port),
              "    broker.ca-file=/etc/layroom/" + made.authority().getFileName()));
    }
    return lines;
  }
}
