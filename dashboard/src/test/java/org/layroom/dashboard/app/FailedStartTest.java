package org.layroom.dashboard.app;

import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Duration;
import java.util.HashSet;
import java.util.List;
import java.util.Properties;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.config.Settings;
import org.layroom.dashboard.config.SettingsFile;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.pace.RealPace;

/** A start that fails half-way leaves nothing running: no broker, no thread, no lock, no port. */
class FailedStartTest {
  private static final Duration SOON = Duration.ofSeconds(60);

  /**
   * What the JVM and the libraries keep for the whole process, started once by whoever is first.
   */
  private static final List<String> SHARED =
      List.of(
          "Common-Cleaner",
          "Netty",
          "netty",
          "globalEventExecutor",
          "ObjectCleanerThread",
          "ForkJoinPool.commonPool",
          "process reaper",
          "Cleaner-",
          "activemq-discovery",
          "XNIO-Housekeeping",
          "Thread-TransactionSynchronization",
          "Attach Listener",
          "tinylog",
          "junit-");

  @TempDir Path folder;
  private final RealPace pace = new RealPace();
  private final Set<Thread> before = new HashSet<>();

  @BeforeEach
  void remember() {
    before.addAll(Thread.getAllStackTraces().keySet());
  }

  @AfterEach
  void close() {
    pace.close();
  }

  private Set<String> left() {
    return Thread.getAllStackTraces().keySet().stream()
        .filter(thread -> !before.contains(thread) && thread.isAlive())
        .map(Thread::getName)
        .filter(name -> SHARED.stream().noneMatch(name::startsWith))
        .filter(name -> !name.equals("layroom-real-pace"))
        .collect(Collectors.toSet());
  }

  private Settings settings(String... more) throws Exception {
    Properties properties = new Properties();
    properties.setProperty("data", folder.resolve("data").toString());
    properties.setProperty("http.port", "0");
    properties.setProperty("zone", "UTC");
    for (int i = 0; i < more.length; i += 2) {
      properties.setProperty(more[i], more[i + 1]);
    }
    return SettingsFile.of(properties, folder);
  }

  private String failure(Settings settings) {
    Exception failure =
        assertThrows(
            Exception.class, () -> Dashboard.start(settings, pace, pace, 1, false).close());
    assertTrue(
        failure instanceof StartFailure,
        () -> "a failure in words, not " + failure + " with a trace");
    nothingRunsOn();
    StoreFolder.open(folder.resolve("data")).close();
    return String.valueOf(failure.getMessage());
  }

  private void nothingRunsOn() {
    try {
      Until.within(SOON, "nothing of it runs on", () -> left().isEmpty());
    } catch (AssertionError e) {
      StringBuilder where = new StringBuilder("still running: ");
      Thread.getAllStackTraces()
          .forEach(
              (thread, stack) -> {
                if (left().contains(thread.getName())) {
                  where.append(thread.getName()).append(' ').append(List.of(stack)).append('\n');
                }
              });
      throw new AssertionError(where.toString(), e);
    }
  }

  private static ServerSocket taken() throws IOException {
    return new ServerSocket(0, 1, InetAddress.getLoopbackAddress());
  }

  @Test
  void aMaterialOfTheSettingsThatNobodyKnowsIsRefusedWithThoseThereAre() throws Exception {
    String said = failure(settings("material", "gp-resn"));
    assertTrue(said.contains("unknown \"gp-resn\"") && said.contains("gp-resin"), said);
  }

  /** One bad file must not leave a shop without its warnings. */
  @Test
  void aMaterialOfTheSettingsWhoseFileCannotBeUsedIsToldAndTheDashboardStarts() throws Exception {
    Path own = Files.createDirectories(folder.resolve("own"));
    Files.writeString(own.resolve("my-can.json"), "{\"id\":\"my-can\"");
    Settings settings = settings("material", "my-can", "material.folder", own.toString());
    try (Dashboard started = Dashboard.start(settings, pace, pace, 1, false)) {
      int port = started.web().uri().getPort();
      HttpResponse<String> room =
          HttpClient.newHttpClient()
              .send(
                  HttpRequest.newBuilder(URI.create("http://localhost:" + port + "/api/room"))
                      .build(),
                  HttpResponse.BodyHandlers.ofString());
      assertTrue(room.body().contains("my-can.json is not used"), room.body());
      assertTrue(room.body().contains("gp-resin takes its place"), room.body());
    }
  }

  @Test
  void whenThePagesPortIsTaken() throws Exception {
    try (ServerSocket other = taken()) {
      int port = other.getLocalPort();
      assertTrue(
          failure(settings("http.port", String.valueOf(port))).startsWith("Port " + port),
          "which port, and what to set");
    }
  }

  @Test
  void whenTheBrokersPortIsTaken() throws Exception {
    try (ServerSocket other = taken()) {
      int port = other.getLocalPort();
      assertTrue(failure(settings("broker.port", String.valueOf(port))).startsWith("Port " + port));
    }
  }

  @Test
  void whenTheCertificateCannotBeRead() throws Exception {
    Path nothing = Files.writeString(folder.resolve("house.pem"), "no certificate");
    Path key = Files.writeString(folder.resolve("house.key"), "no key");
    failure(settings("https.certificate", nothing.toString(), "https.key", key.toString()));
  }

  /** The store takes no setting, and the first is wanted once the broker runs. */
  @Test
  void whenTheStoreFailsAfterTheBrokerHasStarted() throws Exception {
    Path data = folder.resolve("data");
    StoreFolder.open(data).close();
    try (Connection connection =
            DriverManager.getConnection("jdbc:sqlite:" + data.resolve("layroom.db"));
        Statement statement = connection.createStatement()) {
      statement.execute(
          "create trigger broken before insert on setting begin select raise(abort, 'broken'); end");
    }
    assertTrue(failure(settings()).contains("broken"));
  }

  @Test
  void aGoodStartAfterThemRuns() throws Exception {
    try (Dashboard page = Dashboard.start(settings(), pace, pace, 1, false)) {
      assertTrue(page.web().uri().getPort() > 0);
    }
    nothingRunsOn();
  }
}
