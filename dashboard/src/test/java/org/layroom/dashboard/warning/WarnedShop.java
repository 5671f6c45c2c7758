package org.layroom.dashboard.warning;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Optional;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.demo.DemoConnection;
import org.layroom.device.demo.DemoDevice;
import org.layroom.device.demo.DemoStory;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;

/**
 * The simulated shop, its device with real drivers, the broker inside the dashboard, the store and
 * the warnings, on one stepped time: minute by minute, each stored before the next.
 */
final class WarnedShop implements AutoCloseable {
  static final Instant START = Instant.parse("2026-03-16T08:00:00Z");
  static final Channel CHANNEL = Channel.of("shop", "bench");
  static final RoomName ROOM = CHANNEL.room();

  /** For what must come in the end; costs nothing when all is well. */
  static final Duration SOON = Duration.ofSeconds(90);

  private static final Duration STEP = Duration.ofMinutes(1);

  private final Path folder;
  private final RealTime transport = new RealTime();
  private final SteppedPace pace = new SteppedPace(START);
  private final DemoDevice device;
  private DashboardCore core;
  private AirWarnings warnings;
  private int port;

  WarnedShop(Path folder) throws IOException {
    this.folder = folder;
    core = DashboardCore.start(settings(0), pace, transport);
    warnings = AirWarnings.start(core, pace, 1);
    device =
        DemoDevice.start(
            pace,
            new DemoConnection(
                core.brokerUri(),
                CHANNEL,
                Optional.of(core.logins().pair(CHANNEL)),
                folder.resolve("outbox")),
            new DemoStory(Duration.ofSeconds(10), Duration.ofMinutes(40), ZoneOffset.UTC, 3));
    device.ownLayups(false);
    minutes(2);
  }

  private CoreSettings settings(int port) {
    return CoreSettings.embedded(folder.resolve("dashboard"), port);
  }

  DemoDevice device() {
    return device;
  }

  DashboardCore core() {
    return core;
  }

  AirWarnings warnings() {
    return warnings;
  }

  Instant now() {
    return pace.now();
  }

  RoomAir air() {
    return warnings.air(ROOM);
  }

  /** Lets time pass; everything measured is stored before the next minute begins. */
  void minutes(int count) {
    for (int i = 0; i < count; i++) {
      pace.advanceBy(STEP);
      Until.stored(SOON, "all is stored", core, () -> device.stored() == device.measured());
    }
  }

  /** Lets time pass with nobody upstairs; what is measured waits in the outbox. */
  void minutesAlone(int count) {
    pace.advanceBy(STEP.multipliedBy(count));
  }

  /** The dashboard stops, and its broker with it. */
  void stopDashboard() {
    port = core.brokerUri().getPort();
    warnings.close();
    core.close();
  }

  /** The dashboard starts again on the same data and port. */
  void startDashboard() {
    core = DashboardCore.start(settings(port), pace, transport);
    warnings = AirWarnings.start(core, pace, 1);
    Until.within(SOON, "the dashboard is connected", () -> core.link().connected());
    Until.within(SOON, "the device reports again", this::deviceIsOnline);
  }

  void restartDashboard() {
    stopDashboard();
    startDashboard();
  }

  private boolean deviceIsOnline() {
    return core.snapshot(ROOM).devices().stream()
        .anyMatch(one -> one.said().filter(said -> said.status().online()).isPresent());
  }

  @Override
  public void close() throws IOException {
    device.close();
    warnings.close();
    core.close();
    pace.close();
    transport.close();
  }
}
