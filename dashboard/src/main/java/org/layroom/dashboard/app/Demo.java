package org.layroom.dashboard.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.temporal.TemporalAdjusters;
import java.util.Optional;
import java.util.Properties;
import org.layroom.dashboard.config.InvalidSettings;
import org.layroom.dashboard.config.Settings;
import org.layroom.dashboard.config.SettingsFile;
import org.layroom.device.demo.DemoConnection;
import org.layroom.device.demo.DemoDevice;
import org.layroom.device.demo.DemoStory;
import org.layroom.device.pace.RealPace;
import org.layroom.device.pace.ScaledPace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;

/**
 * The demo: a dashboard with its broker, and a device in an invented shop, on one pace. The shop's
 * clock starts on the last Saturday at half past one, half an hour before a fender is laid up.
 */
public final class Demo implements AutoCloseable {
  /**
   * In the demo a bump test brings its own swab: what a simulated sensor sees of it, as vapor of
   * the whole room.
   */
  private static final double SWAB_GRAMS = 8;

  private static final LocalTime OPENING = LocalTime.of(13, 30);

  private final RealPace real;
  private final ScaledPace pace;
  private final Dashboard page;
  private final DemoDevice device;
  private final ScratchFolder scratch;

  private Demo(
      RealPace real, ScaledPace pace, Dashboard page, DemoDevice device, ScratchFolder scratch) {
    this.real = real;
    this.pace = pace;
    this.page = page;
    this.device = device;
    this.scratch = scratch;
  }

  /**
   * Starts the demo.
   *
   * @param speed 1 or more
   * @param port of the page; 0 takes a free one
   * @param data where to keep its data; empty for a folder that is deleted at the end
   */
  public static Demo start(double speed, int port, Optional<Path> data, ZoneId zone)
      throws StartFailure, IOException {
    ScratchFolder scratch = ScratchFolder.folder("layroom-demo", data);
    RealPace real = new RealPace();
    ScaledPace pace = new ScaledPace(opening(real.now(), zone), speed);
    try {
      Settings settings = settings(scratch.path(), port, zone);
      Dashboard page = Dashboard.start(settings, pace, real, speed, true);
      try {
        Channel bench = new Channel(settings.room(), DeviceName.of("bench"));
        DemoConnection connection =
            new DemoConnection(
                page.core().brokerUri(),
                bench,
                Optional.of(page.core().logins().pair(bench)),
                scratch.path().resolve("outbox"));
        DemoDevice device = DemoDevice.start(pace, connection, DemoStory.usual(zone));
        page.air().sensors().onBumpTest(tested -> device.wipeDown(SWAB_GRAMS));
        return new Demo(real, pace, page, device, scratch);
      } catch (IOException | RuntimeException e) {
        page.close();
        throw e;
      }
    } catch (StartFailure | IOException | RuntimeException e) {
      pace.close();
      real.close();
      scratch.close();
      throw e;
    }
  }

  private static Instant opening(Instant now, ZoneId zone) {
    ZonedDateTime saturday =
        now.atZone(zone).with(TemporalAdjusters.previousOrSame(DayOfWeek.SATURDAY)).with(OPENING);
    return saturday.toInstant();
  }

  private static Settings settings(Path folder, int port, ZoneId zone) throws StartFailure {
    Properties properties = new Properties();
    properties.setProperty("data", folder.resolve("dashboard").toAbsolutePath().toString());
    properties.setProperty("http.port", String.valueOf(port));
    properties.setProperty("zone", zone.getId());
    try {
      return SettingsFile.of(properties, folder);
    } catch (InvalidSettings e) {
      throw new StartFailure(String.valueOf(e.getMessage()), e);
    }
  }

  public Dashboard page() {
    return page;
  }

  public DemoDevice device() {
    return device;
  }

  @Override
  public void close() {
    try {
      device.close();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } finally {
      page.close();
      pace.close();
      real.close();
      scratch.close();
    }
  }
}
