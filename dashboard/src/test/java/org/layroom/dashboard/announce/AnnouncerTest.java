package org.layroom.dashboard.announce;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.telemetry.RoomName;

/** What is posted, once, to a real HTTP server, and what happens when it does not take it. */
class AnnouncerTest {
  private static final Duration SOON = Duration.ofSeconds(60);
  private static final Instant EVENING = Instant.parse("2026-03-01T18:00:00Z");
  private static final RoomName SHOP = RoomName.of("shop");
  private static final Announcer.Standing LEAVE =
      new Announcer.Standing("w-1", true, "Leave shop", "Vapor is \"high\".\nGet out.");
  private static final Announcer.Standing DEMOLD =
      new Announcer.Standing("job-1:demold:open", false, "fender, shop", "Likely hard enough.");

  @TempDir Path folder = Path.of("");

  private final SteppedPace pace = new SteppedPace(EVENING);
  private final RealTime transport = new RealTime();
  private final List<String> bodies = new CopyOnWriteArrayList<>();
  private final List<String> keys = new CopyOnWriteArrayList<>();
  private final AtomicInteger status = new AtomicInteger(200);
  private final List<Announcer.Standing> standing = new CopyOnWriteArrayList<>();
  private Optional<HttpServer> house = Optional.empty();

  @BeforeEach
  void anAddressOfTheHouse() throws IOException {
    HttpServer server =
        HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    server.createContext("/push", this::take);
    server.start();
    house = Optional.of(server);
  }

  private void take(HttpExchange exchange) throws IOException {
    bodies.add(new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8));
    keys.add(String.valueOf(exchange.getRequestHeaders().getFirst("X-Key")));
    exchange.getResponseHeaders().set("Location", "/push");
    exchange.sendResponseHeaders(status.get(), -1);
    exchange.close();
  }

  @AfterEach
  void stop() {
    house.ifPresent(server -> server.stop(0));
    transport.close();
    pace.close();
  }

  private Announcer announcer(String type, String body) throws IOException {
    Path headers = Files.writeString(folder.resolve("headers"), "X-Key: secret\n");
    URI uri =
        URI.create("http://localhost:" + house.orElseThrow().getAddress().getPort() + "/push");
    return Announcer.start(
        Optional.of(
            new HouseAddress(
                uri, Optional.of(headers), type, new BodyTemplate(body, type.contains("json")))),
        () -> List.of(SHOP),
        room -> List.copyOf(standing),
        pace,
        transport);
  }

  private Announcer announcer() throws IOException {
    return announcer("application/json", BodyTemplate.USUAL);
  }

  private void passes() {
    pace.advanceBy(Duration.ofSeconds(5));
  }

  private void heard(int count) {
    Until.within(SOON, count + " are heard", () -> bodies.size() >= count);
    assertEquals(count, bodies.size());
  }

  @Test
  void aWarningIsToldWhenItBeginsAndWhenItEndsAndAWindowOnce() throws IOException {
    try (Announcer announcer = announcer()) {
      passes();
      standing.add(LEAVE);
      passes();
      heard(1);
      passes();
      standing.add(DEMOLD);
      passes();
      heard(2);
      standing.clear();
      passes();
      heard(3);
      JsonNode raised = JsonMapper.builder().build().readTree(bodies.get(0));
      assertEquals("warning-raised", raised.path("event").asText());
      assertEquals("shop", raised.path("room").asText());
      assertEquals("Vapor is \"high\".\nGet out.", raised.path("words").asText());
      assertEquals("2026-03-01T18:00:10Z", raised.path("time").asText());
      assertTrue(bodies.get(1).contains("\"event\":\"part\""), bodies.get(1));
      assertTrue(bodies.get(2).contains("\"event\":\"warning-ended\""), bodies.get(2));
      assertEquals(List.of("secret", "secret", "secret"), keys);
      assertEquals(Optional.empty(), announcer.trouble());
    }
  }

  @Test
  void whatStoodBeforeTheStartIsNotToldAgain() throws IOException {
    standing.add(LEAVE);
    standing.add(DEMOLD);
    try (Announcer announcer = announcer()) {
      passes();
      passes();
      assertEquals(Optional.empty(), announcer.tryOut(SHOP));
      heard(1);
      assertTrue(bodies.get(0).contains("\"event\":\"test\""), "the test is the first to come");
    }
  }

  @Test
  void aTestSaysWhyItWasNotTakenAfterThreeTriesAndNoRedirectIsFollowed() throws IOException {
    status.set(307);
    try (Announcer announcer = announcer()) {
      String why = announcer.tryOut(SHOP).orElseThrow();
      assertTrue(why.contains("answered 307"), why);
      heard(HousePost.TRIES);
      assertEquals(Optional.of(why), announcer.trouble());
      status.set(204);
      assertEquals(Optional.empty(), announcer.tryOut(SHOP));
      assertEquals(Optional.empty(), announcer.trouble());
    }
  }

  @Test
  void nobodyThereIsSaidAndTheNextIsTriedAllTheSame() throws IOException {
    try (Announcer announcer = announcer()) {
      house.orElseThrow().stop(0);
      String why = announcer.tryOut(SHOP).orElseThrow();
      assertTrue(why.contains("cannot be reached"), why);
    }
  }

  @Test
  void aPlainBodyIsTakenAsItIsWritten() throws IOException {
    try (Announcer announcer = announcer("text/plain", "{title}: {words}")) {
      passes();
      standing.add(LEAVE);
      passes();
      heard(1);
      assertEquals("Leave shop: Vapor is \"high\".\nGet out.", bodies.get(0));
    }
  }

  @Test
  void aPlaceholderThatNobodyFillsIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> new BodyTemplate("{who}", false));
  }

  @Test
  void withoutAnAddressNothingIsLookedAt() {
    try (Announcer announcer =
        Announcer.start(
            Optional.empty(),
            () -> {
              throw new AssertionError("looked");
            },
            room -> List.of(),
            pace,
            transport)) {
      passes();
      assertTrue(announcer.tryOut(SHOP).isPresent());
    }
  }
}
