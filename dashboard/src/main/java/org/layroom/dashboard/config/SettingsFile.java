package org.layroom.dashboard.config;

import java.io.IOException;
import java.io.Reader;
import java.net.InetAddress;
import java.net.NetworkInterface;
import java.net.SocketException;
import java.net.URI;
import java.net.UnknownHostException;
import java.nio.charset.CharacterCodingException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Properties;
import java.util.Set;
import java.util.TreeSet;
import org.layroom.dashboard.access.HostNames;
import org.layroom.dashboard.announce.BodyTemplate;
import org.layroom.dashboard.announce.HouseAddress;
import org.layroom.dashboard.broker.BrokerEncryption;
import org.layroom.dashboard.config.Settings.Certificate;
import org.layroom.dashboard.config.Settings.House;
import org.layroom.dashboard.config.Settings.Listen;
import org.layroom.dashboard.config.Settings.OutsideBroker;
import org.layroom.dashboard.store.Retention;
import org.layroom.device.telemetry.RoomName;

/**
 * Reads settings from properties and collects everything that is wrong with them, so that a person
 * mends all of it at once. For one reading.
 */
public final class SettingsFile {
  private static final Set<String> KEYS =
      new TreeSet<>(
          Set.of(
              "room",
              "broker.uri",
              "broker.user",
              "broker.password-file",
              "broker.ca-file",
              "broker.port",
              "broker.address",
              "broker.certificate",
              "broker.certificate-password-file",
              "broker.key",
              "http.address",
              "http.port",
              "http.names",
              "https.port",
              "https.certificate",
              "https.key",
              "https.password-file",
              "data",
              "zone",
              "material",
              "material.folder",
              "outdoor.file",
              "keep.readings-days",
              "keep.minutes-days",
              "keep.hours-days",
              "announce.url",
              "announce.header-file",
              "announce.content-type",
              "announce.body"));

  private static final int MOST_DAYS = 36_500;

  private final Properties properties;
  private final Path folder;
  private final List<String> problems = new ArrayList<>();

  private SettingsFile(Properties properties, Path folder) {
    this.properties = properties;
    this.folder = folder;
  }

  /** The settings of a file. */
  public static Settings read(Path file) throws IOException, InvalidSettings {
    Properties properties = new Properties();
    try (Reader reader = Files.newBufferedReader(file)) {
      properties.load(reader);
    } catch (CharacterCodingException e) {
      throw new InvalidSettings(List.of(file + " is not UTF-8: save it again in that encoding"));
    } catch (IllegalArgumentException e) {
      throw new InvalidSettings(List.of(file + " is not a properties file: " + e.getMessage()));
    }
    Path folder = Optional.ofNullable(file.toAbsolutePath().getParent()).orElse(Path.of("."));
    return of(properties, folder);
  }

  /**
   * The settings of some properties.
   *
   * @param folder where relative paths start
   */
  public static Settings of(Properties properties, Path folder) throws InvalidSettings {
    return new SettingsFile(properties, folder).settings();
  }

  Settings settings() throws InvalidSettings {
    for (String key : new TreeSet<>(properties.stringPropertyNames())) {
      if (!KEYS.contains(key)) {
        problems.add(key + ": unknown setting; use one of " + String.join(", ", KEYS));
      }
    }
    RoomName room = room();
    Optional<OutsideBroker> broker = broker();
    Listen embedded = new Listen(own("broker.address"), port("broker.port", 0));
    Listen http = new Listen(own("http.address"), port("http.port", 8080));
    Settings settings =
        new Settings(
            room,
            broker,
            embedded,
            encryption(broker.isPresent()),
            http,
            house(),
            path("data").orElse(folder.resolve("data")),
            zone(),
            text("material").orElse("gp-resin"),
            path("material.folder"),
            path("outdoor.file"),
            retention(),
            announce());
    if (!problems.isEmpty()) {
      throw new InvalidSettings(problems);
    }
    return settings;
  }

  private Optional<String> text(String key) {
    return Optional.ofNullable(properties.getProperty(key))
        .map(String::strip)
        .filter(value -> !value.isEmpty());
  }

  private RoomName room() {
    String name = text("room").orElse("shop");
    try {
      return RoomName.of(name);
    } catch (IllegalArgumentException e) {
      problems.add("room: " + e.getMessage());
      return RoomName.of("shop");
    }
  }

  private Optional<OutsideBroker> broker() {
    Optional<String> uri = text("broker.uri");
    Optional<Path> passwordFile = readable("broker.password-file");
    Optional<Path> caFile = readable("broker.ca-file");
    if (uri.isEmpty()) {
      if (text("broker.user").isPresent() || passwordFile.isPresent() || caFile.isPresent()) {
        problems.add("broker.user, broker.password-file and broker.ca-file need broker.uri");
      }
      return Optional.empty();
    }
    if (text("broker.user").isPresent() != text("broker.password-file").isPresent()) {
      problems.add(
          "Set both broker.user and broker.password-file, or neither for a broker without"
              + " passwords");
    }
    if (caFile.isPresent() && !uri.get().matches("(ssl|mqtts):.*")) {
      problems.add(
          "broker.ca-file needs an encrypted connection: use ssl://HOST:PORT in broker.uri");
    }
    return brokerUri(uri.get())
        .map(address -> new OutsideBroker(address, text("broker.user"), passwordFile, caFile));
  }

  private Optional<BrokerEncryption> encryption(boolean outside) {
    Optional<Path> certificate = readable("broker.certificate");
    Optional<Path> key = readable("broker.key");
    Optional<Path> password = readable("broker.certificate-password-file");
    if (certificate.isEmpty() && key.isEmpty() && password.isEmpty()) {
      return Optional.empty();
    }
    if (outside) {
      problems.add(
          "broker.certificate and broker.key are for the built-in broker. With broker.uri,"
              + " set them in that broker's own settings");
      return Optional.empty();
    }
    if (certificate.isEmpty() || key.isPresent() == password.isPresent()) {
      problems.add(
          "Set broker.certificate together with broker.key (PEM) or"
              + " broker.certificate-password-file (PKCS#12), or set none of them");
      return Optional.empty();
    }
    Optional<BrokerEncryption.Secret> secret =
        key.<BrokerEncryption.Secret>map(BrokerEncryption.Key::new)
            .or(() -> password.map(BrokerEncryption.Password::new));
    return secret.map(with -> new BrokerEncryption(certificate.get(), with));
  }

  private Optional<URI> brokerUri(String text) {
    try {
      URI uri = URI.create(text);
      if (Set.of("tcp", "ssl", "mqtt", "mqtts").contains(String.valueOf(uri.getScheme()))
          && uri.getHost() != null
          && uri.getUserInfo() == null) {
        return Optional.of(uri);
      }
    } catch (IllegalArgumentException e) {
      // said below, with what is wanted instead
    }
    problems.add(
        "broker.uri: enter tcp://HOST:PORT or ssl://HOST:PORT, with the user in broker.user"
            + " and the password in broker.password-file");
    return Optional.empty();
  }

  private String own(String key) {
    String address = text(key).orElse("127.0.0.1");
    try {
      InetAddress here = InetAddress.getByName(address);
      if (here.isAnyLocalAddress()
          || here.isLoopbackAddress()
          || NetworkInterface.getByInetAddress(here) != null) {
        return address;
      }
    } catch (UnknownHostException | SocketException e) {
      // said below, with what is wanted instead
    }
    problems.add(
        key
            + ": "
            + address
            + " is not an address of this machine; use 127.0.0.1 for this machine only,"
            + " 0.0.0.0 for all its networks");
    return "127.0.0.1";
  }

  private House house() {
    Set<String> names = new TreeSet<>();
    for (String name : text("http.names").orElse("").split("[,\\s]+", -1)) {
      if (HostNames.canBe(name)) {
        names.add(name);
      } else if (!name.isEmpty()) {
        problems.add(
            "http.names: \""
                + name
                + "\" is not a host name; enter names that browsers use, such as"
                + " layroom.home.arpa, without port");
      }
    }
    return new House(names, port("https.port", 8443), certificate());
  }

  private Optional<Certificate> certificate() {
    Optional<Path> chain = readable("https.certificate");
    Optional<Path> key = readable("https.key");
    Optional<Path> password = readable("https.password-file");
    if (chain.isEmpty() && (key.isPresent() || password.isPresent())) {
      problems.add("https.key and https.password-file need https.certificate");
    }
    return chain.map(file -> new Certificate(file, key, password));
  }

  private Optional<HouseAddress> announce() {
    Optional<String> url = text("announce.url");
    Optional<Path> headers = readable("announce.header-file");
    String type = text("announce.content-type").orElse("application/json");
    String body = text("announce.body").orElse(BodyTemplate.USUAL);
    if (url.isEmpty()) {
      if (text("announce.header-file").isPresent()
          || text("announce.content-type").isPresent()
          || text("announce.body").isPresent()) {
        problems.add(
            "announce.header-file, announce.content-type and announce.body need announce.url");
      }
      return Optional.empty();
    }
    try {
      BodyTemplate template = new BodyTemplate(body, type.contains("json"));
      URI uri = URI.create(url.get());
      if (Set.of("http", "https").contains(String.valueOf(uri.getScheme()))
          && uri.getHost() != null
          && uri.getUserInfo() == null) {
        return Optional.of(new HouseAddress(uri, headers, type, template));
      }
      problems.add(
          "announce.url: enter http://HOST:PORT/PATH or https://HOST/PATH; a password goes into"
              + " announce.header-file");
    } catch (IllegalArgumentException e) {
      problems.add("announce: " + e.getMessage());
    }
    return Optional.empty();
  }

  private Retention retention() {
    Retention usual = Retention.USUAL;
    Optional<Duration> readings = kept("keep.readings-days", 7, usual.readings());
    Optional<Duration> minutes = kept("keep.minutes-days", 90, usual.minutes());
    Optional<Duration> hours = kept("keep.hours-days", 400, usual.hours());
    try {
      return new Retention(readings, minutes, hours);
    } catch (IllegalArgumentException e) {
      problems.add(
          "keep.minutes-days must be at least keep.readings-days, and keep.hours-days at least"
              + " keep.minutes-days");
      return usual;
    }
  }

  private Optional<Duration> kept(String key, int least, Optional<Duration> otherwise) {
    Optional<String> text = text(key);
    if (text.isEmpty()) {
      return otherwise;
    }
    if (text.get().equals("forever")) {
      return Optional.empty();
    }
    try {
      int days = Integer.parseInt(text.get());
      if (days >= least && days <= MOST_DAYS) {
        return Optional.of(Duration.ofDays(days));
      }
    } catch (NumberFormatException e) {
      // said below, with what is wanted instead
    }
    problems.add(
        key
            + ": \""
            + text.get()
            + "\" must be a number of days from "
            + least
            + " to "
            + MOST_DAYS
            + ", or forever");
    return otherwise;
  }

  private Optional<Path> readable(String key) {
    Optional<Path> file = path(key);
    file.ifPresent(
        there -> {
          if (!Files.isReadable(there)) {
            problems.add(key + ": cannot read " + there);
          }
        });
    return file;
  }

  private int port(String key, int otherwise) {
    Optional<String> text = text(key);
    if (text.isEmpty()) {
      return otherwise;
    }
    try {
      int port = Integer.parseInt(text.get());
      if (port >= 0 && port <= 65535) {
        return port;
      }
    } catch (NumberFormatException e) {
      // said below, with what is wanted instead
    }
    problems.add(key + ": \"" + text.get() + "\" must be a port from 0 (any free one) to 65535");
    return otherwise;
  }

  private Optional<Path> path(String key) {
    try {
      return text(key).map(folder::resolve);
    } catch (InvalidPathException e) {
      problems.add(key + ": " + e.getMessage());
      return Optional.empty();
    }
  }

  private ZoneId zone() {
    Optional<String> text = text("zone");
    try {
      return text.map(ZoneId::of).orElse(ZoneId.systemDefault());
    } catch (DateTimeException e) {
      problems.add(
          "zone: \"" + text.get() + "\" is not a time zone; enter one such as America/Denver");
      return ZoneId.systemDefault();
    }
  }
}
