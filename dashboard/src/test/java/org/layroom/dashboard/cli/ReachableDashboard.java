package org.layroom.dashboard.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Properties;
import org.layroom.dashboard.access.AccessControl;
import org.layroom.dashboard.access.Role;
import org.layroom.dashboard.app.Dashboard;
import org.layroom.dashboard.app.ScratchFolder;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.dashboard.config.InvalidSettings;
import org.layroom.dashboard.config.Settings;
import org.layroom.dashboard.config.SettingsFile;
import org.layroom.device.pace.RealPace;

/**
 * A dashboard in this process that listens on the house's network, on free ports. "From elsewhere"
 * is this machine with a forwarding header, which counts as elsewhere: that needs neither root nor
 * a network.
 */
final class ReachableDashboard implements AutoCloseable {
  static final String ELSEWHERE = "X-Forwarded-For: 192.0.2.7";

  private final RealPace pace = new RealPace();
  private final ScratchFolder scratch;
  private final Settings settings;
  private Dashboard page;

  private ReachableDashboard(ScratchFolder scratch, Settings settings) throws StartFailure {
    this.scratch = scratch;
    this.settings = settings;
    this.page = Dashboard.start(settings, pace, pace, 1, false);
  }

  static ReachableDashboard start(String... more)
      throws StartFailure, IOException, InvalidSettings {
    ScratchFolder scratch = ScratchFolder.folder("layroom-house", Optional.empty());
    Properties properties = new Properties();
    properties.setProperty("data", scratch.path().resolve("data").toString());
    properties.setProperty("http.port", "0");
    properties.setProperty("https.port", "0");
    properties.setProperty("http.address", "0.0.0.0");
    properties.setProperty("zone", "UTC");
    for (int i = 0; i < more.length; i += 2) {
      properties.setProperty(more[i], more[i + 1]);
    }
    return new ReachableDashboard(scratch, SettingsFile.of(properties, scratch.path()));
  }

  void restart() throws StartFailure {
    page.close();
    page = Dashboard.start(settings, pace, pace, 1, false);
  }

  Dashboard page() {
    return page;
  }

  AccessControl door() {
    return page.door();
  }

  Path data() {
    return settings.data();
  }

  int port() {
    return page.web().uri().getPort();
  }

  String url() {
    return page.web().uri().toString();
  }

  /** One request under a loopback name, unless a header says another. */
  RawHttp.Answer ask(String line, String body, String... headers) throws IOException {
    List<String> all = new ArrayList<>(List.of(headers));
    if (all.stream().noneMatch(header -> header.startsWith("Host:"))) {
      all.add("Host: localhost:" + port());
    }
    return RawHttp.ask(port(), line, body, all.toArray(String[]::new));
  }

  RawHttp.Answer get(String path, String... headers) throws IOException {
    return ask("GET " + path, "", headers);
  }

  RawHttp.Answer pair(String code, String name) throws IOException {
    return ask(
        "POST /api/pair", "{\"code\":\"%s\",\"name\":\"%s\"}".formatted(code, name), ELSEWHERE);
  }

  /** A cookie header of a device that was just paired from elsewhere. */
  String cookie(Role role, String name) throws IOException {
    RawHttp.Answer answer = pair(door().open(role).text(), name);
    String cookie = answer.header("Set-Cookie").orElseThrow(() -> new IOException(answer.body()));
    return "Cookie: " + cookie.substring(0, cookie.indexOf(';'));
  }

  @Override
  public void close() {
    page.close();
    pace.close();
    scratch.close();
  }
}
