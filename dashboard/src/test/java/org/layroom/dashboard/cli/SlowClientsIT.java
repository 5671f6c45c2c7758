package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.layroom.dashboard.cli.ReachableDashboard.ELSEWHERE;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.layroom.dashboard.access.Role;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.pace.RealPace;

/** Two hundred clients of each slow kind at once, and a page that is answered all the same. */
class SlowClientsIT {
  private static final int MANY = 200;
  private static final String ESTABLISHED = "01";

  /**
   * Several times as many as the server has threads: if each held one, nobody would be answered.
   */
  private static final int HELD = 50;

  private static final Duration SOON = Duration.ofSeconds(90);

  private final List<Socket> sockets = new ArrayList<>();
  private final RealPace dripping = new RealPace();

  @AfterEach
  void end() throws IOException {
    dripping.close();
    for (Socket socket : sockets) {
      socket.close();
    }
  }

  private void clients(ReachableDashboard house, String request) throws IOException {
    for (int i = 0; i < MANY; i++) {
      Socket socket = new Socket();
      socket.setReceiveBufferSize(4096);
      socket.connect(new InetSocketAddress(InetAddress.getLoopbackAddress(), house.port()));
      sockets.add(socket);
      send(socket, request.formatted(house.port()));
    }
  }

  private static boolean send(Socket socket, String text) {
    try {
      socket.getOutputStream().write(text.getBytes(StandardCharsets.ISO_8859_1));
      return true;
    } catch (IOException e) {
      return false;
    }
  }

  /** One more byte of each, twice a second; counts those that were cut off. */
  private AtomicInteger drip(String piece) {
    AtomicInteger cut = new AtomicInteger();
    dripping.every(
        Duration.ofMillis(500),
        () -> cut.set((int) sockets.stream().filter(socket -> !send(socket, piece)).count()));
    return cut;
  }

  /** Each is answered while the slow ones are still there, not only once they have been cut off. */
  private static void answersBesideThem(ReachableDashboard house, String reader)
      throws IOException {
    for (String place : List.of("/", "/page.js", "/api/room", "/api/jobs", "/api/door")) {
      assertEquals(200, house.get(place, ELSEWHERE, reader).status(), place);
      assertStillThere(house, place);
    }
    assertEquals(
        201, house.ask("POST /api/door", "{\"action\":\"code\",\"role\":\"full\"}").status());
    assertStillThere(house, "a code");
  }

  private static void assertStillThere(ReachableDashboard house, String place) throws IOException {
    long there = connected(house.port());
    assertTrue(there >= HELD, "only " + there + " slow ones are left when " + place + " comes");
  }

  /**
   * Connections to a port of this machine that neither end has closed, as the kernel counts them.
   */
  private static long connected(int port) throws IOException {
    String to = ":%04X".formatted(port);
    long connected = 0;
    for (String table : List.of("/proc/net/tcp", "/proc/net/tcp6")) {
      connected +=
          Files.readAllLines(Path.of(table)).stream()
              .map(line -> line.strip().split(" +"))
              .filter(fields -> fields[2].endsWith(to) && fields[3].equals(ESTABLISHED))
              .count();
    }
    return connected;
  }

  @Test
  void headersAndBodiesThatComeByteByByteHoldNobodyUpAndAreCutOff() throws Exception {
    try (ReachableDashboard house = ReachableDashboard.start()) {
      String reader = house.cookie(Role.READ_ONLY, "reader");
      clients(house, "GET / HTTP/1.1\r\nHost: localhost:%1$d\r\nX-Slow: ");
      clients(
          house,
          "POST /api/pair HTTP/1.1\r\nHost: localhost:%1$d\r\nContent-Type: application/json\r\n"
              + ELSEWHERE
              + "\r\nContent-Length: 60000\r\n\r\n{");
      AtomicInteger cut = drip(" ");
      answersBesideThem(house, reader);
      Until.within(SOON, "all of them are cut off", () -> cut.get() == 2 * MANY);
    }
  }

  @Test
  void answersThatNobodyReadsHoldNobodyUp() throws Exception {
    try (ReachableDashboard house = ReachableDashboard.start()) {
      String reader = house.cookie(Role.READ_ONLY, "reader");
      String ask = " HTTP/1.1\r\nHost: localhost:%1$d\r\n\r\n";
      clients(
          house, ("GET /lib/uPlot.iife.min.js" + ask + "GET /api/openapi.json" + ask).repeat(20));
      clients(house, ("GET /api/export?from=2000-01-01" + ask).repeat(5));
      answersBesideThem(house, reader);
      end();
    }
  }

  @Test
  void eventStreamsThatNobodyReadsHoldNobodyUpAndLeaveRoomForThePage() throws Exception {
    try (ReachableDashboard house = ReachableDashboard.start()) {
      String reader = house.cookie(Role.READ_ONLY, "reader");
      clients(house, "GET /api/events HTTP/1.1\r\nHost: localhost:%1$d\r\n\r\n");
      answersBesideThem(house, reader);
      try (Socket page = new Socket(InetAddress.getLoopbackAddress(), house.port())) {
        page.setSoTimeout((int) SOON.toMillis());
        send(
            page,
            "GET /api/events HTTP/1.1\r\nHost: localhost:%d\r\n%s\r\n%s\r\n\r\n"
                .formatted(house.port(), ELSEWHERE, reader));
        byte[] begun = page.getInputStream().readNBytes(4000);
        assertTrue(new String(begun, StandardCharsets.UTF_8).contains("event:room"), "a picture");
        byte[] goesOn = page.getInputStream().readNBytes(8000);
        assertEquals(8000, goesOn.length, "and it goes on");
      }
    }
  }
}
