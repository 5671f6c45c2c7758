package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.layroom.dashboard.cli.ReachableDashboard.ELSEWHERE;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.InputStream;
import java.net.ConnectException;
import java.net.InetAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyStore;
import java.security.cert.CertificateFactory;
import java.util.Optional;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLException;
import javax.net.ssl.SSLSocket;
import javax.net.ssl.TrustManagerFactory;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.layroom.dashboard.access.HostNames;
import org.layroom.dashboard.access.Role;
import org.layroom.dashboard.app.ScratchFolder;

/** The page over TLS with a certificate made by one command, asked by Java's own TLS client. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class PageTlsIT {
  private final ScratchFolder scratch;
  private final ReachableDashboard house;
  private final SSLContext trusting;

  PageTlsIT() throws Exception {
    scratch = ScratchFolder.folder("layroom-tls", Optional.empty());
    Path settings = scratch.path().resolve("dashboard.properties");
    Files.writeString(settings, "data=data\n");
    Typed made = Typed.run("certificate --json --config " + settings + " --name layroom.home.arpa");
    assertEquals(0, made.status(), made.err());
    JsonNode files = JsonMapper.builder().build().readTree(made.out());
    house =
        ReachableDashboard.start(
            "https.certificate", files.path("certificate").asText(),
            "https.password-file", files.path("passwordFile").asText());
    trusting = trusting(Path.of(files.path("authority").asText()));
  }

  @AfterAll
  void close() {
    house.close();
    scratch.close();
  }

  /** A client that trusts the house's authority and nobody else. */
  private static SSLContext trusting(Path authority) throws Exception {
    KeyStore store = KeyStore.getInstance("PKCS12");
    store.load(null, null);
    try (InputStream in = Files.newInputStream(authority)) {
      store.setCertificateEntry(
          "house", CertificateFactory.getInstance("X.509").generateCertificate(in));
    }
    TrustManagerFactory trust =
        TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
    trust.init(store);
    SSLContext context = SSLContext.getInstance("TLS");
    context.init(null, trust.getTrustManagers(), null);
    return context;
  }

  private int tlsPort() {
    return URI.create(house.page().web().houseUris().get(0)).getPort();
  }

  private SSLSocket connect() throws IOException {
    return (SSLSocket)
        trusting.getSocketFactory().createSocket(InetAddress.getLoopbackAddress(), tlsPort());
  }

  @Test
  void aBrowserThatTrustsTheAuthorityFindsThePageUnderItsName() throws Exception {
    HttpResponse<String> page =
        HttpClient.newBuilder()
            .sslContext(trusting)
            .build()
            .send(
                HttpRequest.newBuilder(URI.create("https://localhost:" + tlsPort() + "/")).build(),
                HttpResponse.BodyHandlers.ofString());
    assertEquals(200, page.statusCode());
    assertEquals(
        "max-age=15552000", page.headers().firstValue("Strict-Transport-Security").orElse(""));
    assertThrows(
        IOException.class,
        () ->
            HttpClient.newHttpClient()
                .send(
                    HttpRequest.newBuilder(URI.create("https://localhost:" + tlsPort() + "/"))
                        .build(),
                    HttpResponse.BodyHandlers.ofString()),
        "nobody else trusts it");
  }

  @Test
  void theCookieGoesOverTlsOnlyAndIsBoundToTheHost() throws Exception {
    String host = "Host: localhost:" + tlsPort();
    String body =
        "{\"code\":\"%s\",\"name\":\"tablet\"}".formatted(house.door().open(Role.FULL).text());
    String cookie;
    try (SSLSocket socket = connect()) {
      RawHttp.Answer in = RawHttp.answer(socket, "POST /api/pair", body, host, ELSEWHERE);
      cookie = in.header("Set-Cookie").orElse("");
      assertTrue(
          cookie.matches(
              "__Host-layroom-[0-9a-f]{8}=[A-Za-z0-9_-]{43}; Path=/; Max-Age=15552000; HttpOnly;"
                  + " SameSite=Strict; Secure"),
          in.toString());
    }
    String header = "Cookie: " + cookie.replaceAll(";.*", "");
    try (SSLSocket socket = connect()) {
      String origin = "Origin: https://localhost:" + tlsPort();
      assertEquals(
          200,
          RawHttp.answer(socket, "POST /api/leave", "{}", host, ELSEWHERE, header, origin)
              .status());
    }
  }

  @Test
  void withACertificateThePlainPageIsForThisMachineOnly() throws Exception {
    assertEquals(200, house.get("/api/room").status());
    assertTrue(
        house.page().web().houseUris().stream().allMatch(place -> place.startsWith("https://")));
    for (String address : HostNames.addresses()) {
      assertThrows(
          ConnectException.class,
          () -> RawHttp.ask(InetAddress.getByName(address), house.port(), "GET /", ""));
    }
  }

  @Test
  void olderCiphersAreNotSpoken() throws Exception {
    try (SSLSocket old = connect()) {
      old.setEnabledProtocols(new String[] {"TLSv1.2"});
      old.setEnabledCipherSuites(new String[] {"TLS_ECDHE_ECDSA_WITH_AES_128_CBC_SHA256"});
      assertThrows(SSLException.class, old::startHandshake);
    }
    try (SSLSocket usual = connect()) {
      usual.startHandshake();
      assertEquals("TLSv1.3", usual.getSession().getProtocol());
    }
  }
}
