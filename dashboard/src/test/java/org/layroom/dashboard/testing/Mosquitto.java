package org.layroom.dashboard.testing;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Assumptions;
import org.layroom.dashboard.access.device.BrokerClient;
import org.layroom.dashboard.access.device.DeviceLogins;

/**
 * A real outside broker (Debian's mosquitto) with a user, a password and a folder of its own, and
 * its command-line client as a second, independent speaker of MQTT.
 */
public final class Mosquitto implements AutoCloseable {
  public static final String USER = "shop";
  public static final String PASSWORD = "not-a-default-1";
  public static final OutboxDevice.Login LOGIN = new OutboxDevice.Login(USER, PASSWORD);

  private final Path folder;
  private final int port;
  private final Path config;
  private final String user;
  private @Nullable Process process;

  private Mosquitto(Path folder, int port, Path config) {
    this(folder, port, config, USER);
  }

  private Mosquitto(Path folder, int port, Path config, String user) {
    this.user = user;
    this.folder = folder;
    this.port = port;
    this.config = config;
  }

  /** Skips the test where mosquitto is not installed, but fails it in continuous integration. */
  public static void required() {
    boolean there = find("mosquitto").isPresentIn() && find("mosquitto_pub").isPresentIn();
    String words =
        "mosquitto and mosquitto_pub are needed: apt-get install mosquitto-clients mosquitto";
    if (System.getenv("CI") != null) {
      Assertions.assertTrue(there, words);
    }
    Assumptions.assumeTrue(there, words);
  }

  private record Program(List<Path> places) {
    boolean isPresentIn() {
      return places.stream().anyMatch(Files::isExecutable);
    }

    String command() {
      return places.stream().filter(Files::isExecutable).findFirst().orElseThrow().toString();
    }
  }

  private static Program find(String name) {
    List<Path> places = new ArrayList<>();
    for (String place : System.getenv("PATH").split(":", -1)) {
      places.add(Path.of(place, name));
    }
    places.add(Path.of("/usr/sbin", name));
    places.add(Path.of("/usr/local/sbin", name));
    return new Program(places);
  }

  /**
   * Prepares a broker on a free port.
   *
   * @param limitMessages whether messages above 64 KiB are refused by the broker
   */
  public static Mosquitto prepare(Path folder, boolean limitMessages)
      throws IOException, InterruptedException {
    int port;
    try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      port = free.getLocalPort();
    }
    Path passwords = folder.resolve("passwords");
    Files.writeString(passwords, USER + ":" + PASSWORD + "\n");
    run(List.of(find("mosquitto_passwd").command(), "-U", passwords.toString()));
    Files.createDirectories(folder.resolve("state"));
    Path config = folder.resolve("mosquitto.conf");
    Files.writeString(
        config,
        "listener %d 127.0.0.1\nallow_anonymous false\npassword_file %s\npersistence true\n"
                .formatted(port, passwords)
            + "persistence_location %s/\nautosave_interval 30\n".formatted(folder.resolve("state"))
            + (System.getProperty("user.name").equals("root") ? "user root\n" : "")
            + (limitMessages ? "message_size_limit 65536\n" : ""));
    return new Mosquitto(folder, port, config);
  }

  /**
   * Prepares a broker on a free port that goes by somebody else's settings.
   *
   * @param settings lines of mosquitto.conf besides the listener
   */
  public static Mosquitto prepareWith(Path folder, String settings) throws IOException {
    int port;
    try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      port = free.getLocalPort();
    }
    Path config = folder.resolve("mosquitto.conf");
    Files.writeString(
        config,
        "listener %d 127.0.0.1\n".formatted(port)
            + (System.getProperty("user.name").equals("root") ? "user root\n" : "")
            + settings);
    return new Mosquitto(folder, port, config);
  }

  /** Prepares a broker that knows paired devices and the dashboard, each with its own rights. */
  public static Mosquitto preparePaired(Path folder, DeviceLogins logins) throws IOException {
    Files.write(folder.resolve("passwd"), logins.mosquittoPasswords());
    Files.write(folder.resolve("acl"), logins.mosquittoAccess());
    Files.copy(logins.ownPasswordFile(), folder.resolve("password.txt"));
    Files.createDirectories(folder.resolve("state"));
    Mosquitto plain =
        prepareWith(
            folder,
            "allow_anonymous false\npassword_file %s\nacl_file %s\n"
                    .formatted(folder.resolve("passwd"), folder.resolve("acl"))
                + "use_username_as_clientid true\npersistence true\n"
                + "persistence_location %s/\nautosave_interval 30\n"
                    .formatted(folder.resolve("state"))
                + "message_size_limit 65536\n");
    return new Mosquitto(folder, plain.port, plain.config, BrokerClient.Dashboard.USER);
  }

  /** Who the dashboard is at this broker. */
  public String user() {
    return user;
  }

  /** Lets it read its password file and access list again, as a reload of its service does. */
  public void reload() throws IOException, InterruptedException {
    Process running = process;
    if (running == null || run(List.of("kill", "-HUP", "" + running.pid())) != 0) {
      throw new IOException("mosquitto was not told to reload");
    }
  }

  public URI uri() {
    return URI.create("tcp://127.0.0.1:" + port);
  }

  public Path passwordFile() throws IOException {
    Path file = folder.resolve("password.txt");
    return user.equals(USER) ? Files.writeString(file, PASSWORD + "\n") : file;
  }

  /** Starts the broker and waits until it answers. */
  public void start() throws IOException {
    Process started =
        new ProcessBuilder(find("mosquitto").command(), "-c", config.toString())
            .redirectErrorStream(true)
            .redirectOutput(
                ProcessBuilder.Redirect.appendTo(folder.resolve("mosquitto.log").toFile()))
            .start();
    process = started;
    Until.within(
        Duration.ofMinutes(2),
        "mosquitto answers",
        () -> {
          Assertions.assertTrue(started.isAlive(), "mosquitto ended, see its log in " + folder);
          try (Socket socket = new Socket()) {
            socket.connect(new InetSocketAddress(InetAddress.getLoopbackAddress(), port), 1000);
            return true;
          } catch (IOException e) {
            return false;
          }
        });
  }

  /** Kills the broker as a power cut would. */
  public void kill() {
    Process running = process;
    if (running != null) {
      running.destroyForcibly();
      running.onExit().join();
    }
  }

  /** Publishes with mosquitto_pub, QoS 1. */
  public int publish(String topic, String body, String... more)
      throws IOException, InterruptedException {
    List<String> command =
        new ArrayList<>(
            List.of(find("mosquitto_pub").command(), "-h", "127.0.0.1", "-p", "" + port));
    command.addAll(List.of("-u", USER, "-P", PASSWORD, "-t", topic, "-q", "1"));
    if (!body.isEmpty()) {
      command.addAll(List.of("-m", body));
    }
    command.addAll(List.of(more));
    return run(command);
  }

  private static int run(List<String> command) throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(command)
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    if (!process.waitFor(2, TimeUnit.MINUTES)) {
      process.destroyForcibly();
      throw new IOException("no end of " + command);
    }
    return process.exitValue();
  }

  @Override
  public void close() {
    kill();
  }
}
