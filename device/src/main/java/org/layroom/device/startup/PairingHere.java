package org.layroom.device.startup;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.io.IOException;
import java.io.PrintStream;
import java.net.InetAddress;
import java.net.URI;
import java.net.UnknownHostException;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.publishing.BrokerLogin;
import org.layroom.device.telemetry.Channel;

/**
 * {@code layroom-device pair --here}: asks the dashboard of this machine for the device's password,
 * tries it, and keeps it for this device alone. The dashboard gives it to programs of its own
 * machine only. A device that has a login, and one whose name another device has, keep what they
 * have.
 */
final class PairingHere {
  private static final Duration PATIENCE = Duration.ofSeconds(30);

  private final URI page;
  private final PrintStream out;
  private final HttpClient client = HttpClient.newBuilder().connectTimeout(PATIENCE).build();

  /**
   * Prepares to ask a dashboard.
   *
   * @param page where it shows its page, such as {@code http://localhost:8080}
   */
  PairingHere(URI page, PrintStream out) {
    if (!"http".equals(page.getScheme()) || page.getHost() == null) {
      throw new IllegalArgumentException(
          "--page " + page + ": enter the dashboard's address, such as http://localhost:8080");
    }
    this.page = page;
    this.out = out;
  }

  /**
   * Asks, tries and keeps.
   *
   * @return whether the device was paired now
   * @throws IllegalArgumentException when the settings cannot be used
   * @throws IOException when dashboard or broker does not answer, or the login cannot be kept
   */
  boolean run(DeviceConfig config) throws IOException {
    Channel channel = config.channel();
    URI broker = config.broker().uri();
    Optional<String> hindrance = hindrance(config);
    if (hindrance.isPresent()) {
      out.println(hindrance.get() + " Nothing was changed.");
      return false;
    }
    String password =
        BrokerLogin.typed(
            answer(
                    HttpRequest.newBuilder(page.resolve("/api/devices"))
                        .header("Content-Type", "application/json")
                        .POST(
                            HttpRequest.BodyPublishers.ofString(
                                JsonNodeFactory.instance
                                    .objectNode()
                                    .put("action", "pair")
                                    .put("room", channel.room().value())
                                    .put("device", channel.device().value())
                                    .toString())))
                .path("password")
                .asText());
    return switch (BrokerLogin.pair(
        config.data(), broker, config.broker().caFile(), channel, password)) {
      case PAIRED -> {
        out.println("Paired with " + broker + " as " + channel.user() + ".");
        yield true;
      }
      case REFUSED -> {
        out.println(
            "The broker at "
                + broker
                + " refuses the password that the dashboard at "
                + page
                + " gave, so it is another broker. Set broker.uri to the dashboard's. Nothing was"
                + " changed.");
        yield false;
      }
    };
  }

  /** Why there is nothing to pair, in words; empty when there is. */
  private Optional<String> hindrance(DeviceConfig config) throws IOException {
    Channel channel = config.channel();
    URI broker = config.broker().uri();
    if (config.namesBrokerUser()) {
      return Optional.of("This device has a login of its own: broker.user is set in its settings.");
    }
    if (hasLogin(config)) {
      return Optional.of("This device is paired already.");
    }
    if (!isHere(broker)) {
      return Optional.of(
          "The broker of this device is at "
              + broker
              + ", not on this machine. Run \"layroom pair-device "
              + channel.device()
              + " --room "
              + channel.room()
              + "\" there, and \"layroom-device pair\" here.");
    }
    JsonNode known = answer(HttpRequest.newBuilder(page.resolve("/api/devices")).GET());
    if (known.path("outsideBroker").asBoolean()) {
      return Optional.of(
          "The dashboard uses a broker of your own, whose logins it does not make. Run \"layroom"
              + " broker-files\", or give the device a login there.");
    }
    for (JsonNode device : known.path("devices")) {
      if (device.path("user").asText().equals(channel.user())
          && device.path("paired").asBoolean()) {
        return Optional.of(
            "Another device is paired as "
                + channel.user()
                + ". Give this one another name (device= in its settings), or run \"layroom"
                + " pair-device "
                + channel.device()
                + " --room "
                + channel.room()
                + "\" to take the other's place.");
      }
    }
    List<String> brokers = new ArrayList<>();
    known.path("brokers").forEach(uri -> brokers.add(uri.asText()));
    if (brokers.stream().noneMatch(uri -> URI.create(uri).getPort() == broker.getPort())) {
      return Optional.of(
          "The dashboard's broker is at "
              + String.join(", ", brokers)
              + ", and this device's broker.uri is "
              + broker
              + ". Make them one port: broker.port in the dashboard's settings, broker.uri in the"
              + " device's.");
    }
    return Optional.empty();
  }

  /** A login of a former name is no login of this device. */
  private static boolean hasLogin(DeviceConfig config) {
    try {
      return BrokerLogin.kept(config.data(), config.channel(), config.broker().caFile())
          .isPresent();
    } catch (IllegalArgumentException e) {
      return false;
    }
  }

  private static boolean isHere(URI broker) {
    try {
      return InetAddress.getByName(broker.getHost()).isLoopbackAddress();
    } catch (UnknownHostException e) {
      return false;
    }
  }

  private JsonNode answer(HttpRequest.Builder request) throws IOException {
    HttpResponse<String> response;
    try {
      response =
          client.send(
              request.timeout(PATIENCE).build(),
              HttpResponse.BodyHandlers.ofString(StandardCharsets.UTF_8));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("interrupted while waiting for the dashboard", e);
    } catch (IOException e) {
      throw new IOException(
          "no dashboard answers at "
              + page
              + ". Start it, or enter the address of its page with --page",
          e);
    }
    JsonNode body = JsonMapper.builder().build().readTree(response.body());
    if (response.statusCode() / 100 != 2) {
      throw new IOException(
          "the dashboard at "
              + page
              + " answered "
              + response.statusCode()
              + ". "
              + body.path("title").asText(""));
    }
    return body;
  }
}
