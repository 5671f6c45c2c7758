package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.layroom.dashboard.cli.ReachableDashboard.ELSEWHERE;

import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;

/** What the shipped dashboard writes into its log while a tablet is paired and put out. */
class AccessLogIT {
  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder = Path.of("");

  @Test
  void theLogTellsWhoCameAndWentAndNothingToComeInWith() throws Exception {
    Path log = folder.resolve("dashboard.log");
    Path config =
        Files.writeString(
            folder.resolve("dashboard.properties"),
            "http.port=0\nhttp.address=0.0.0.0\nbroker.port=0\ndata=data\n");
    try (ShippedJars.Running dashboard =
        ShippedJars.start(
            ShippedJars.DASHBOARD, "Ready", log, "serve", "--config", config.toString())) {
      String page = dashboard.after("Page:");
      int port = URI.create(page).getPort();
      String host = "Host: localhost:" + port;
      Typed shown = Typed.run("pair --url " + page);
      String code =
          shown
              .out()
              .lines()
              .map(String::strip)
              .filter(line -> line.matches("[a-z2-9]{4}-[a-z2-9]{4}"))
              .findFirst()
              .orElseThrow(() -> new AssertionError(shown.out() + shown.err()));
      String typo = "{\"code\":\"wwww-wwww\",\"name\":\"tablet\"}";
      assertEquals(403, RawHttp.ask(port, "POST /api/pair", typo, host, ELSEWHERE).status());
      RawHttp.Answer in =
          RawHttp.ask(
              port,
              "POST /api/pair",
              "{\"code\":\"%s\",\"name\":\"tablet\"}".formatted(code),
              host,
              ELSEWHERE);
      String token =
          in.header("Set-Cookie")
              .orElse("")
              .replaceAll(";.*", "")
              .replaceFirst("^layroom-[0-9a-f]{8}=", "");
      assertEquals(43, token.length(), in.toString());
      assertEquals(0, Typed.run("unpair tablet --url " + page).status());
      String said = Files.readString(log);
      assertTrue(said.contains("A wrong pairing code was entered"), said);
      assertTrue(said.contains("\"tablet\" was paired: full"), said);
      assertTrue(said.contains("Access removed: \"tablet\""), said);
      for (String secret : new String[] {code, code.replace("-", ""), "wwww-wwww", token}) {
        assertFalse(said.contains(secret), "a secret is in the log");
      }
    }
  }
}
