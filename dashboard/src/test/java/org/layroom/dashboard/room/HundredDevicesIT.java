package org.layroom.dashboard.room;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxOptions;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.publishing.BrokerAddress;
import org.layroom.device.publishing.BrokerPassword;
import org.layroom.device.publishing.Publisher;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Reading;

/**
 * A hundred devices as they are shipped, with the dashboard restarted under them: all come back,
 * and what each measured meanwhile is stored once. How long it takes is printed.
 */
class HundredDevicesIT {
  private static final int MANY = 100;
  private static final Duration PATIENCE = Duration.ofMinutes(2);
  private static final OutboxOptions OPTIONS =
      new OutboxOptions(OutboxOptions.Sync.NEVER, 64 * 1024, Long.MAX_VALUE);

  @TempDir Path folder;
  private final RealTime real = new RealTime();
  private final SteppedPace pace = new SteppedPace(Instant.now());
  private final List<Device> devices = new ArrayList<>();

  @AfterEach
  void stop() throws IOException {
    for (Device device : devices) {
      device.publisher().close();
      device.outbox().close();
    }
    real.close();
    pace.close();
  }

  private record Device(Outbox outbox, Publisher publisher) {
    void measure(SteppedPace pace) {
      Sample sample =
          new Sample(
              pace.uptime(),
              pace.now(),
              true,
              List.of(Reading.of("temperature", "Cel", 20)),
              List.of());
      publisher.offer(outbox.append(sample), sample);
    }
  }

  private void measure() {
    pace.advanceBy(Duration.ofSeconds(10));
    devices.forEach(device -> device.measure(pace));
  }

  /** Every device's samples up to a number are committed, and the device knows it. */
  private boolean stored(DashboardCore core, long upTo) {
    return devices.stream().allMatch(device -> device.outbox().mark() == upTo)
        && core.store().marks().stream().filter(one -> one.mark().sequence() == upTo).count()
            == MANY;
  }

  @Test
  void allComeBackWhenTheDashboardIsRestartedUnderThem() throws Exception {
    int port;
    Path data = folder.resolve("data");
    try (DashboardCore core = DashboardCore.start(CoreSettings.embedded(data, 0), real, real)) {
      port = core.brokerUri().getPort();
      for (int i = 0; i < MANY; i++) {
        Outbox outbox = Outbox.open(folder.resolve("outbox-" + i), OPTIONS);
        Channel channel = Channel.of("room-" + i, "bench");
        BrokerPassword password = new BrokerPassword.InMemory(core.logins().pair(channel));
        BrokerAddress address =
            new BrokerAddress(core.brokerUri(), Optional.of(channel.user()), Optional.of(password));
        Publisher publisher = new Publisher(address, channel, outbox, pace);
        devices.add(new Device(outbox, publisher));
        publisher.start();
      }
      measure();
      Until.stored(PATIENCE, "the first samples are stored", core, () -> stored(core, 1));
    }
    measure();
    try (DashboardCore core = DashboardCore.start(CoreSettings.embedded(data, port), real, real)) {
      long begun = System.nanoTime();
      Until.within(PATIENCE, "all are back", () -> core.counts().samples() == MANY);
      double seconds = (System.nanoTime() - begun) / 1e9;
      System.out.printf(
          Locale.ROOT, "HundredDevicesIT: all %d are back after %.1f s%n", MANY, seconds);
      Until.stored(PATIENCE, "what they measured is stored", core, () -> stored(core, 2));
      assertEquals(MANY, core.rooms().size());
      assertTrue(
          core.rooms().stream()
              .allMatch(
                  room ->
                      core.store()
                              .history()
                              .countReadings(room, Instant.EPOCH, pace.now().plusSeconds(60))
                          == 2),
          "each once");
    }
  }
}
