package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeFalse;
import static org.layroom.dashboard.cli.ReachableDashboard.ELSEWHERE;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.zip.ZipInputStream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.layroom.dashboard.access.AccessControl;
import org.layroom.dashboard.access.HostNames;
import org.layroom.dashboard.access.Role;

/** Who comes in to a dashboard that listens on the house's network, and who does not. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class AccessIT {
  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final Set<String> FOR_STRANGERS = Set.of("/api/pair", "/api/door", "/livez");
  private static final String TAP =
      "{\"id\":\"ev-start-1\",\"type\":\"started\",\"part\":\"hatch\",\"molds\":[\"hatch\"],"
          + "\"steps\":[{\"kind\":\"layer\"},{\"kind\":\"demold\"}]}";

  private static final String OTHER_TAP = TAP.replace("hatch", "fender");

  private final ReachableDashboard house;

  AccessIT() throws Exception {
    house = ReachableDashboard.start();
  }

  @BeforeAll
  void itIsUp() throws IOException {
    assertEquals(200, house.get("/api/room").status(), "on this machine everything works");
  }

  @AfterAll
  void close() {
    house.close();
  }

  private static JsonNode json(RawHttp.Answer answer) throws IOException {
    return JSON.readTree(answer.body());
  }

  private List<String> places() {
    List<String> places = new ArrayList<>(house.page().web().places());
    places.addAll(List.of("/api/openapi.json", "/page.js", "/house.js", "/lib/uPlot.iife.min.js"));
    return places;
  }

  @Test
  void fromElsewhereThereIsNothingButThePairingScreen() throws Exception {
    for (String place : places()) {
      if (!FOR_STRANGERS.contains(place)) {
        assertEquals(401, house.get(place, ELSEWHERE).status(), place);
        assertEquals(401, house.ask("POST " + place, "{}", ELSEWHERE).status(), place);
      }
    }
    RawHttp.Answer screen = house.get("/", ELSEWHERE);
    assertEquals(200, screen.status());
    assertTrue(screen.body().contains("Pair this device"), screen.body());
    assertEquals("stranger", json(house.get("/api/door", ELSEWHERE)).path("you").asText());
    assertFalse(house.get("/api/door", ELSEWHERE).body().contains("paired"));
    assertEquals(403, house.ask("POST /api/door", "{\"action\":\"code\"}", ELSEWHERE).status());
    assertTrue(house.get("/").body().contains("id=\"strip\""), "here it is the page");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "Forwarded: for=192.0.2.7",
        "forwarded: for=127.0.0.1",
        "X-Forwarded-For: 127.0.0.1",
        "x-forwarded-host: localhost",
        "X-Forwarded-Proto: https",
        "X-Forwarded-Anything-Else: 1",
        "X-Real-IP: 127.0.0.1",
        "Via: 1.1 somebody",
        "CF-Connecting-IP: 127.0.0.1",
        "True-Client-IP: 127.0.0.1"
      })
  void aForwardedRequestComesFromElsewhere(String header) throws Exception {
    assertEquals(401, house.get("/api/room", header).status());
    assertEquals(401, house.get("/api/backup", header).status());
  }

  @Test
  void aCodeMadeHereOpensOnceThereAndTheCookieIsForNobodyElse() throws Exception {
    String code = house.door().open(Role.FULL).text();
    RawHttp.Answer in = house.pair(code, "old tablet");
    assertEquals(201, in.status(), in.body());
    String cookie = in.header("Set-Cookie").orElse("");
    assertTrue(
        cookie.matches(
            "layroom-[0-9a-f]{8}=[A-Za-z0-9_-]{43}; Path=/; Max-Age=15552000; HttpOnly; SameSite=Strict"),
        cookie);
    assertFalse(in.body().contains(cookie.substring(17, 60)), "not in the answer's body");
    String header = "Cookie: " + cookie.substring(0, cookie.indexOf(';'));
    assertEquals(200, house.get("/api/room", ELSEWHERE, header).status());
    assertEquals("full", json(house.get("/api/door", ELSEWHERE, header)).path("you").asText());
    assertEquals(201, house.ask("POST /api/job?job=job-00000001", TAP, ELSEWHERE, header).status());
    assertEquals(403, house.pair(code, "another").status());
    assertEquals(401, house.get("/api/room", ELSEWHERE, header + "x").status());
    assertEquals(403, house.get("/api/backup", ELSEWHERE, header).status());
    assertEquals(403, house.get("/api/devices", ELSEWHERE, header).status());
    assertEquals(
        403,
        house
            .ask("POST /api/door", "{\"action\":\"code\",\"role\":\"full\"}", ELSEWHERE, header)
            .status(),
        "who is paired lets nobody else in");
  }

  /** RFC 6265, section 8.5: cookies are kept by host, whatever the port. */
  @Test
  void twoDashboardsOnOneHostDoNotPutEachOthersDevicesOut() throws Exception {
    try (ReachableDashboard one = ReachableDashboard.start();
        ReachableDashboard other = ReachableDashboard.start()) {
      String here = one.cookie(Role.FULL, "tablet");
      String there = other.cookie(Role.FULL, "tablet");
      assertNotEquals(name(here), name(there), "a browser would keep one of them only");
      String both = here + "; " + there.substring("Cookie: ".length());
      assertEquals(200, one.get("/api/room", ELSEWHERE, both).status());
      assertEquals(200, other.get("/api/room", ELSEWHERE, both).status());
      String former = "Cookie: layroom=" + here.substring(here.indexOf('=') + 1);
      assertEquals(200, one.get("/api/room", ELSEWHERE, former).status(), "from before");
    }
  }

  private static String name(String cookie) {
    return cookie.substring("Cookie: ".length(), cookie.indexOf('='));
  }

  @Test
  void tooManyCookiesAreABadRequest() throws Exception {
    String many =
        IntStream.range(0, 60)
            .mapToObj(i -> "c" + i + "=v")
            .collect(Collectors.joining("; ", "Cookie: ", ""));
    assertEquals(400, house.get("/api/room", ELSEWHERE, many).status());
  }

  @Test
  void aReaderReadsAndEveryWriteIsRefusedWithTheReason() throws Exception {
    String reader = house.cookie(Role.READ_ONLY, "spectator");
    for (String place : List.of("/api/room", "/api/jobs", "/api/log", "/api/export", "/page.js")) {
      assertEquals(200, house.get(place, ELSEWHERE, reader).status(), place);
    }
    JsonNode described = json(house.get("/api/openapi.json")).path("paths");
    Set<String> refused = new TreeSet<>();
    for (var place : described.properties()) {
      if (place.getValue().has("post") && !readersMay(place.getKey())) {
        refused.add(place.getKey());
      }
    }
    assertTrue(refused.size() >= 8, refused.toString());
    for (String place : refused) {
      RawHttp.Answer answer = house.ask("POST " + place, "{}", ELSEWHERE, reader);
      assertEquals(403, answer.status(), place);
      assertTrue(json(answer).path("title").asText().contains("is read-only"), place);
    }
  }

  private static boolean readersMay(String place) {
    return Set.of("/api/pair", "/api/leave").contains(place);
  }

  @Test
  void guessesAreCountedAndTheAnswerSaysHowLongToWait() throws Exception {
    try (ReachableDashboard other = ReachableDashboard.start()) {
      String code = other.door().open(Role.FULL).text();
      Set<Integer> statuses = new TreeSet<>();
      for (int guess = 0; guess < 10; guess++) {
        statuses.add(other.pair("zzzz-zzz" + "23456789ab".charAt(guess), "x").status());
      }
      assertEquals(Set.of(403), statuses);
      RawHttp.Answer many = other.pair(code, "x");
      assertEquals(429, many.status());
      int wait = Integer.parseInt(many.header("Retry-After").orElse(""));
      assertTrue(wait >= 1 && wait <= 60, many.toString());
      assertTrue(other.door().standing().isEmpty(), "and the code is dead");
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "Host: rebound.example",
        "Host: localhost.rebound.example",
        "Host: 127.0.0.1.rebound.example:80",
        "Host: 192.0.2.250",
        "Host: "
      })
  void aNameThatIsNotThisHousesIsTurnedAway(String host) throws Exception {
    for (String place : List.of("/", "/api/room", "/api/door", "/page.js")) {
      assertEquals(403, house.get(place, host).status(), place);
      assertEquals(403, house.get(place, host, ELSEWHERE).status(), place);
    }
  }

  @Test
  void twoHostsOrNoneAreNone() throws Exception {
    int port = house.port();
    assertEquals(400, RawHttp.ask(port, "GET /api/room", "", "X: y").status());
    int two =
        RawHttp.ask(port, "GET /api/room", "", "Host: localhost", "Host: rebound.example").status();
    assertTrue(two == 403 || two == 400, "status " + two);
  }

  @Test
  void aPageFromElsewhereNeitherReadsNorWrites() throws Exception {
    String own = "Origin: http://localhost:" + house.port();
    String body = "{\"action\":\"code\",\"role\":\"full\"}";
    assertEquals(201, house.ask("POST /api/door", body, own).status());
    for (String origin :
        List.of(
            "Origin: http://elsewhere.example",
            "Origin: null",
            "Origin: https://localhost:" + house.port(),
            "Origin: http://localhost:1",
            "Sec-Fetch-Site: cross-site",
            "Sec-Fetch-Site: same-site")) {
      assertEquals(403, house.ask("POST /api/door", body, origin).status(), origin);
      assertEquals(403, house.get("/api/room", origin).status(), origin);
    }
    assertEquals(
        200, house.get("/", "Sec-Fetch-Site: cross-site").status(), "a link may lead here");
    assertEquals(200, house.get("/api/room", "Sec-Fetch-Site: same-origin").status());
  }

  @ParameterizedTest
  @ValueSource(strings = {"PUT", "DELETE", "OPTIONS", "TRACE", "PATCH", "PROPFIND"})
  void noOtherMethodIsUnderstood(String method) throws Exception {
    RawHttp.Answer answer = house.ask(method + " /api/room", "");
    assertEquals(405, answer.status());
    assertEquals("GET, HEAD, POST", answer.header("Allow").orElse(""));
  }

  @Test
  void whoIsPutOutIsOutAtOnceAndSoIsWhatTheyListenTo() throws Exception {
    String cookie = house.cookie(Role.FULL, "lost phone");
    try (Socket stream = new Socket(InetAddress.getLoopbackAddress(), house.port())) {
      stream.setSoTimeout(60_000);
      String request =
          "GET /api/events HTTP/1.1\r\nHost: localhost:%d\r\n%s\r\n%s\r\n\r\n"
              .formatted(house.port(), ELSEWHERE, cookie);
      stream.getOutputStream().write(request.getBytes(StandardCharsets.ISO_8859_1));
      InputStream in = stream.getInputStream();
      assertEquals("HTTP/1.1 200", new String(in.readNBytes(12), StandardCharsets.ISO_8859_1));
      Typed put = Typed.run("unpair lost\u00a0phone --url " + house.url());
      assertEquals(2, put.status(), "no such name");
      String id =
          house.door().paired().stream()
              .filter(session -> session.name().equals("lost phone"))
              .findFirst()
              .orElseThrow()
              .id();
      assertEquals(0, Typed.run("unpair " + id + " --url " + house.url()).status());
      assertTrue(ends(in), "the stream has ended");
    }
    assertEquals(401, house.get("/api/room", ELSEWHERE, cookie).status());
  }

  private static boolean ends(InputStream in) {
    try {
      return in.transferTo(new ByteArrayOutputStream()) >= 0;
    } catch (IOException e) {
      return e instanceof SocketException;
    }
  }

  @Test
  void whoLeavesMustBePairedAgain() throws Exception {
    String cookie = house.cookie(Role.READ_ONLY, "guest");
    RawHttp.Answer left = house.ask("POST /api/leave", "{}", ELSEWHERE, cookie);
    assertEquals(200, left.status());
    assertTrue(
        left.header("Set-Cookie").orElse("").matches("layroom-[0-9a-f]{8}=; Path=/; Max-Age=0.*"));
    assertEquals(401, house.get("/api/room", ELSEWHERE, cookie).status());
  }

  @Test
  void whoIsPairedAnewComesInByTheNewCookieOnly() throws Exception {
    String before = house.cookie(Role.READ_ONLY, "tablet");
    String body =
        "{\"code\":\"%s\",\"name\":\"tablet\"}".formatted(house.door().open(Role.FULL).text());
    assertEquals(201, house.ask("POST /api/pair", body, ELSEWHERE, before).status());
    assertEquals(401, house.get("/api/room", ELSEWHERE, before).status());
  }

  @Test
  void aSessionOutlastsARestart() throws Exception {
    try (ReachableDashboard other = ReachableDashboard.start()) {
      String cookie = other.cookie(Role.FULL, "tablet");
      other.restart();
      assertEquals(200, other.get("/api/room", ELSEWHERE, cookie).status());
    }
  }

  @Test
  void theCommandsShowTheCodeAndWhoIsPaired() throws Exception {
    Typed shown = Typed.run("pair --read-only --url " + house.url());
    assertEquals(0, shown.status(), shown.err());
    String code =
        shown
            .out()
            .lines()
            .map(String::strip)
            .filter(l -> l.matches("[a-z2-9]{4}-[a-z2-9]{4}"))
            .findFirst()
            .orElseThrow(() -> new AssertionError(shown.out()));
    assertTrue(shown.out().contains("http://"), "where to go");
    assertEquals(201, house.pair(code, "by command").status());
    Typed paired = Typed.run("paired --url " + house.url());
    assertTrue(paired.out().contains("by command, is read-only"), paired.out());
  }

  @Test
  void noSecretIsInABackupAnExportOrAnAnswer() throws Exception {
    AccessControl.Code code = house.door().open(Role.FULL);
    String cookie = house.cookie(Role.FULL, "tablet of the backup");
    String token = cookie.replaceFirst("Cookie: layroom-[0-9a-f]{8}=", "");
    String hash =
        HexFormat.of()
            .formatHex(
                MessageDigest.getInstance("SHA-256")
                    .digest(token.getBytes(StandardCharsets.UTF_8)));
    assertTrue(
        Files.readString(house.data().resolve("access").resolve("sessions")).contains(hash),
        "what is looked for is what there is");
    byte[] backup =
        HttpClient.newHttpClient()
            .send(
                HttpRequest.newBuilder(URI.create(house.url() + "api/backup")).build(),
                HttpResponse.BodyHandlers.ofByteArray())
            .body();
    Set<String> names = new TreeSet<>();
    StringBuilder all = new StringBuilder();
    try (ZipInputStream zip = new ZipInputStream(new ByteArrayInputStream(backup))) {
      for (var entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
        names.add(entry.getName());
        all.append(new String(zip.readAllBytes(), StandardCharsets.ISO_8859_1));
      }
    }
    assertTrue(names.contains("manifest.json"), names.toString());
    for (String place : List.of("/api/export", "/api/export?what=jobs", "/api/door", "/api/log")) {
      all.append(house.get(place).body());
    }
    for (String secret : List.of(token, hash, code.text(), code.text().replace("-", ""))) {
      assertFalse(all.indexOf(secret) >= 0, "a secret got out");
    }
  }

  @Test
  void everyAnswerTellsTheBrowserWhatIsAllowed() throws Exception {
    for (RawHttp.Answer answer :
        List.of(
            house.get("/"),
            house.get("/page.js"),
            house.get("/api/room"),
            house.get("/api/nothing"),
            house.get("/", ELSEWHERE),
            house.get("/api/room", ELSEWHERE),
            house.get("/", "Host: rebound.example"),
            house.ask("DELETE /", ""),
            house.get("/api/export"),
            house.get("/api/room?room=attic"))) {
      String policy = answer.header("Content-Security-Policy").orElse("");
      assertTrue(policy.startsWith("default-src 'none'"), answer.toString());
      assertTrue(policy.contains("frame-ancestors 'none'") && !policy.contains("unsafe"), policy);
      assertEquals("nosniff", answer.header("X-Content-Type-Options").orElse(""));
      assertEquals("DENY", answer.header("X-Frame-Options").orElse(""));
      assertEquals("no-referrer", answer.header("Referrer-Policy").orElse(""));
      assertEquals("same-origin", answer.header("Cross-Origin-Resource-Policy").orElse(""));
      assertTrue(answer.header("Permissions-Policy").orElse("").contains("camera=()"));
      assertTrue(answer.header("Cache-Control").orElse("").matches("no-store|no-cache"));
      assertFalse(answer.header("Strict-Transport-Security").isPresent(), "not without TLS");
      assertFalse(answer.header("Access-Control-Allow-Origin").isPresent());
      assertFalse(answer.header("Server").isPresent());
    }
    assertEquals("no-store", house.get("/api/room").header("Cache-Control").orElse(""));
    assertEquals("same-origin", house.get("/").header("Cross-Origin-Opener-Policy").orElse(""));
  }

  @Test
  void aDeviceElsewhereInTheHouseIsAStrangerByTheMachinesOwnAddress() throws Exception {
    List<String> addresses = HostNames.addresses();
    if (addresses.isEmpty() && System.getenv("CI") != null) {
      fail("this machine has no address but loopback, and this test needs one");
    }
    assumeFalse(addresses.isEmpty(), "this machine has no address but loopback");
    InetAddress there = InetAddress.getByName(addresses.get(0));
    String host = "Host: " + addresses.get(0) + ":" + house.port();
    assertTrue(
        house.page().web().houseUris().contains("http://" + host.substring(6) + "/"),
        house.page().web().houseUris().toString());
    assertEquals(401, RawHttp.ask(there, house.port(), "GET /api/room", "", host).status());
    assertEquals(
        403,
        RawHttp.ask(there, house.port(), "GET /", "", "Host: localhost:" + house.port()).status(),
        "a loopback name is no name of this house's elsewhere");
    String body =
        "{\"code\":\"%s\",\"name\":\"there\"}".formatted(house.door().open(Role.FULL).text());
    RawHttp.Answer in = RawHttp.ask(there, house.port(), "POST /api/pair", body, host);
    assertEquals(201, in.status(), in.body());
    String cookie = "Cookie: " + in.header("Set-Cookie").orElse("").replaceAll(";.*", "");
    assertEquals(200, RawHttp.ask(there, house.port(), "GET /api/room", "", host, cookie).status());
  }

  private String token(String name, String role) throws Exception {
    RawHttp.Answer made =
        house.ask(
            "POST /api/tokens",
            "{\"action\":\"make\",\"name\":\"" + name + "\",\"role\":\"" + role + "\"}");
    assertEquals(201, made.status(), made.body());
    return "Authorization: Bearer " + json(made).path("token").asText();
  }

  /** RFC 6750: the header alone, its challenges and error codes (section 3). */
  @Test
  void aProgramComesInWithATokenAndDoesWhatItsRoleAllows() throws Exception {
    String reads = token("sheet", "read-only");
    String writes = token("button", "full");
    assertEquals(200, house.get("/api/room", ELSEWHERE, reads).status());
    assertEquals("read-only", json(house.get("/api/door", ELSEWHERE, reads)).path("you").asText());
    RawHttp.Answer refused =
        house.ask("POST /api/job?job=job-00000002", OTHER_TAP, ELSEWHERE, reads);
    assertEquals(403, refused.status());
    assertEquals(
        "Bearer realm=\"Layroom\", error=\"insufficient_scope\"",
        refused.header("WWW-Authenticate").orElse(""));
    assertEquals(
        201, house.ask("POST /api/job?job=job-00000002", OTHER_TAP, ELSEWHERE, writes).status());
    for (String forHereAlone : List.of("/api/tokens", "/api/devices", "/api/backup")) {
      assertEquals(403, house.get(forHereAlone, ELSEWHERE, writes).status(), forHereAlone);
    }
    assertEquals(403, house.get("/api/tokens", writes).status(), "a token is a token here too");
  }

  @Test
  void aTokenThatIsWrongOrRevokedOpensNothingNotEvenHere() throws Exception {
    String token = token("monitor", "read-only");
    assertEquals(200, house.get("/metrics", ELSEWHERE, token).status());
    assertEquals(
        200,
        house.ask("POST /api/tokens", "{\"action\":\"revoke\",\"name\":\"monitor\"}").status());
    for (String shown : List.of(token, "Authorization: bearer nonsense")) {
      RawHttp.Answer refused = house.get("/api/room", shown);
      assertEquals(401, refused.status(), shown);
      assertEquals(
          "Bearer realm=\"Layroom\", error=\"invalid_token\"",
          refused.header("WWW-Authenticate").orElse(""));
    }
    assertEquals(
        "Bearer realm=\"Layroom\"",
        house.get("/api/room", ELSEWHERE).header("WWW-Authenticate").orElse(""));
    assertEquals(
        401, house.get("/api/room?access_token=" + token.substring(22), ELSEWHERE).status());
  }

  @Test
  void aStrangerHearsThatItLivesAndNothingMore() throws Exception {
    assertEquals("{\"state\":\"up\"}", house.get("/livez", ELSEWHERE).body());
    assertEquals(401, house.get("/readyz", ELSEWHERE).status());
    assertEquals(401, house.get("/metrics", ELSEWHERE).status());
  }

  @Test
  void aDashboardThatHeardNoDeviceIsNotReadyAndSaysWhy() throws Exception {
    RawHttp.Answer ready = house.get("/readyz");
    assertEquals(503, ready.status());
    assertEquals("not-ready", json(ready).path("state").asText());
    assertTrue(ready.body().contains("No reading has come in yet."), ready.body());
  }

  /** A calendar sends neither cookie nor header; its token opens its own path and nothing else. */
  @Test
  void aCalendarIsFetchedAtAnAddressThatNobodyGuesses() throws Exception {
    RawHttp.Answer made =
        house.ask(
            "POST /api/tokens", "{\"action\":\"make\",\"name\":\"phone\",\"role\":\"calendar\"}");
    assertEquals(201, made.status(), made.body());
    String token = json(made).path("token").asText();
    String path = json(made).path("calendarPath").asText().replace("ROOM", "shop");
    RawHttp.Answer calendar = house.get(path, ELSEWHERE);
    assertEquals(200, calendar.status(), calendar.body());
    assertTrue(calendar.body().startsWith("BEGIN:VCALENDAR\r\n"), calendar.body());
    assertEquals(404, house.get(path.replace("shop", "nowhere"), ELSEWHERE).status());
    for (String other :
        List.of("/calendar/" + token, "/calendar/", "/calendar/x/shop.ics", path + "x")) {
      assertEquals(404, house.get(other, ELSEWHERE).status(), other);
    }
    String bearer = "Authorization: Bearer " + token;
    for (String forOthers : List.of("/api/room", "/api/calendar?window=x", "/metrics")) {
      assertEquals(401, house.get(forOthers, ELSEWHERE, bearer).status(), forOthers);
    }
    assertEquals(
        400,
        house.ask("POST /api/door", "{\"action\":\"code\",\"role\":\"calendar\"}").status(),
        "nobody is paired for calendars");
  }
}
