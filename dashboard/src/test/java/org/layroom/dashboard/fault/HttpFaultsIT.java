package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.cli.ShippedJars;
import org.layroom.dashboard.testing.Until;

/** Requests that no page would send, at the shipped dashboard. */
@ExtendWith(Campaign.class)
@Timeout(1200)
class HttpFaultsIT {
  /** Of live events only so many are served at once; the others are told to come again. */
  private static final String TOO_MANY_PAGES = "503";

  /** Ends a request that hangs. */
  private static final int MOST_MILLIS = 120_000;

  private static final List<String> PLACES =
      List.of(
          "/",
          "/../secret",
          "/healthz",
          "/api/room?room=shop",
          "/api/check?room=shop&material=gp-resin",
          "/api/mix?room=shop&amount=200ml&mold-temp=18C&working-time=15min&gel-test=cup,20C,1.5%25,26min",
          "/api/fumes?resin=2kg&styrene=42%25&volume=40m3&air-changes=6&working-time=30min&gel-time=75min",
          "/api/plan?material=gp-resin&waking=07:00-22:00",
          "/api/forecast?hours=72",
          "/api/history?series=temperature&from=2026-03-01T18:00:00Z&to=2026-03-02T18:00:00Z&points=100",
          "/api/export?from=2026-03-01&to=2026-03-02",
          "/api/log?limit=10",
          "/api/materials",
          "/api/material?id=gp-resin",
          "/api/jobs",
          "/api/job?id=job-1",
          "/api/warnings",
          "/api/air",
          "/api/clean-air",
          "/api/airing",
          "/api/door",
          "/api/pair",
          "/api/leave",
          "/api/events?room=shop");

  private static final List<String> BODIES =
      List.of(
          "{}",
          "{\"id\":\"e1\",\"job\":\"job-1\",\"type\":\"started\",\"name\":\"Fender\"}",
          "{\"id\":\"e2\",\"job\":\"job-1\",\"type\":\"film-read\",\"step\":\"s\",\"millimeters\":0.5}",
          "{\"id\":\"my-can\",\"name\":\"My resin\",\"kind\":\"laminating-resin\","
              + "\"gel\":{\"minutes\":20,\"temperatureC\":20,\"doseByWeightPct\":1.5}}",
          "{\"warning\":\"bench-1\",\"saidAs\":\"a\",\"who\":\"Kim\"}",
          "{\"mode\":\"chip\",\"limit\":20,\"who\":\"Kim\"}",
          "{\"step\":\"start\",\"aired\":true,\"who\":\"Kim\"}",
          "{\"action\":\"code\",\"role\":\"full\"}",
          "{\"code\":\"abcd-2345\",\"name\":\"tablet\"}",
          "[".repeat(2000),
          "{\"a\":".repeat(500) + "1" + "}".repeat(500),
          "{\"words\":\"" + "x".repeat(70_000) + "\"}");

  private static final List<String> ODD =
      List.of(
          "",
          "%00",
          "%ff",
          "-1",
          "1e308",
          "NaN",
          "9999999999999999999",
          "..%2f",
          "&&",
          "=",
          "2026-02-30",
          "+1000000000-12-31T23:59:59Z",
          "\u00e4",
          "'",
          "\"",
          "<b>",
          "0x7f",
          "1,5");

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  @Test
  @Fault(
      value = "malformed requests at every place of the API: paths, queries, headers and bodies",
      promised = "an answer or a refusal to each, never an error of the server's own")
  void malformedRequests(Witness witness) throws Exception {
    Random random = witness.random();
    Path config =
        Files.writeString(
            folder.resolve("dashboard.properties"), "http.port=0\nbroker.port=0\ndata=data\n");
    Path log = folder.resolve("dashboard.log");
    Map<String, Integer> statuses = new TreeMap<>();
    List<String> errors = new ArrayList<>();
    try (ShippedJars.Running dashboard =
        ShippedJars.start(
            ShippedJars.DASHBOARD, "Ready", log, "serve", "--config", config.toString())) {
      URI page = URI.create(dashboard.after("Page:"));
      int requests = witness.times(1000, 50_000);
      for (int i = 0; i < requests; i++) {
        byte[] request = request(page, random);
        String status = ask(page, request);
        statuses.merge(status, 1, Integer::sum);
        if (status.startsWith("5") && !status.equals(TOO_MANY_PAGES)) {
          errors.add(status + ": " + new String(request, StandardCharsets.ISO_8859_1));
        }
      }
      assertEquals(List.of(), errors.stream().map(HttpFaultsIT::firstLine).toList());
      assertEquals("200", ask(page, get(page, "/healthz")));
      Until.within(
          Duration.ofSeconds(90),
          "pages that have gone make room for live events",
          () -> asked(page, "/api/events?room=shop").equals("200"));
      assertTrue(dashboard.process().isAlive());
    }
    witness.saw("answers by status: %s", statuses);
  }

  private static String asked(URI page, String place) {
    try {
      return ask(page, get(page, place));
    } catch (IOException e) {
      return "closed";
    }
  }

  private static String firstLine(String text) {
    return text.substring(0, Math.min(300, text.length()));
  }

  private static byte[] get(URI page, String place) {
    return ("GET "
            + place
            + " HTTP/1.1\r\nHost: "
            + page.getAuthority()
            + "\r\nConnection: close\r\n\r\n")
        .getBytes(StandardCharsets.ISO_8859_1);
  }

  private static byte[] request(URI page, Random random) throws IOException {
    String place = changed(one(PLACES, random), random);
    if (random.nextInt(3) > 0) {
      return flipped(get(page, place), random);
    }
    byte[] body = changed(one(BODIES, random), random).getBytes(StandardCharsets.UTF_8);
    ByteArrayOutputStream request = new ByteArrayOutputStream();
    String head =
        "POST %s HTTP/1.1\r\nHost: %s\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n"
            .formatted(place, page.getAuthority(), body.length);
    request.write(flipped(head.getBytes(StandardCharsets.ISO_8859_1), random));
    request.write(body);
    return request.toByteArray();
  }

  private static String one(List<String> of, Random random) {
    return of.get(random.nextInt(of.size()));
  }

  /** Parts are cut out, doubled, or replaced by something odd. */
  private static String changed(String text, Random random) {
    StringBuilder changed = new StringBuilder(text);
    for (int changes = random.nextInt(4); changes > 0; changes--) {
      int from = random.nextInt(changed.length() + 1);
      int to = Math.min(changed.length(), from + random.nextInt(12));
      switch (random.nextInt(3)) {
        case 0 -> changed.replace(from, to, one(ODD, random));
        case 1 -> changed.insert(from, changed.substring(from, to));
        default -> changed.delete(from, to);
      }
    }
    return changed.toString();
  }

  /** One request in ten has a byte of another value. */
  private static byte[] flipped(byte[] bytes, Random random) {
    if (random.nextInt(10) == 0) {
      bytes[random.nextInt(bytes.length)] = (byte) random.nextInt(256);
    }
    return bytes;
  }

  /** The status, or that the connection was closed or nothing more was waited for. */
  private static String ask(URI page, byte[] request) throws IOException {
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), page.getPort())) {
      socket.setSoTimeout(MOST_MILLIS);
      try {
        socket.getOutputStream().write(request);
        socket.shutdownOutput();
        String line =
            new String(socket.getInputStream().readNBytes(12), StandardCharsets.ISO_8859_1);
        return line.length() == 12 ? line.substring(9) : "closed";
      } catch (SocketException e) {
        return "closed";
      }
    }
  }
}
