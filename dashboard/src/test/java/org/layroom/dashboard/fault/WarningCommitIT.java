package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.testing.HandPace;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.dashboard.warning.AirWarnings;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.ReadingsBody;
import org.layroom.device.telemetry.SampleTime;
import org.layroom.device.telemetry.Series;
import org.layroom.device.telemetry.Topic;
import org.layroom.predictor.vapor.AirCall;

/**
 * A reading that raises a warning is committed at once. The time by which a quiet room is committed
 * stands still here, so nothing else can have committed it.
 */
class WarningCommitIT {
  private static final Duration PATIENCE = Duration.ofSeconds(90);
  private static final double CLEAN = 1;
  private static final double FOUL = 20;

  @TempDir Path folder;
  private final HandPace clock = new HandPace(Instant.parse("2026-03-02T18:00:00Z"));
  private final RealTime tasks = new RealTime();
  private final Pace transport = new StandingStill(tasks);
  private int said;

  @Test
  void theReadingThatRaisesAWarningIsStoredWithoutAnyTimePassing() throws Exception {
    try (DashboardCore core =
            DashboardCore.start(CoreSettings.embedded(folder, 0), clock, transport);
        AirWarnings warnings = AirWarnings.start(core, clock, 1)) {
      Paired paired = Paired.with(core.logins());
      try (Speaker live =
          Speaker.connected(core.brokerUri(), Ledger.CHANNEL.clientId(), paired.device())) {
        live.awaitHeard(core, Ledger.CHANNEL);
        for (int i = 0; i < 90; i++) {
          say(core, live, CLEAN);
        }
        assertTrue(stored(core) < said, "a quiet room is not committed reading by reading");
        assertEquals(0, leaves(warnings));
        for (int i = 0; i < 60 && leaves(warnings) == 0; i++) {
          say(core, live, FOUL);
        }
        assertEquals(1, leaves(warnings));
        Until.within(PATIENCE, "what raised it is stored", () -> stored(core) == said);
      }
    } finally {
      tasks.close();
    }
  }

  /** Tasks run in real time, and by its clock no time passes. */
  private record StandingStill(Pace real) implements Pace {
    @Override
    public Instant now() {
      return real.now();
    }

    @Override
    public boolean wallClockSet() {
      return true;
    }

    @Override
    public Duration uptime() {
      return Duration.ZERO;
    }

    @Override
    public Scheduled every(Duration period, Runnable task) {
      return real.every(period, task);
    }

    @Override
    public Scheduled after(Duration delay, Runnable task) {
      return real.after(delay, task);
    }

    @Override
    public void pause(Duration duration) throws InterruptedException {
      real.pause(duration);
    }

    @Override
    public void close() {
      real.close();
    }
  }

  private static long leaves(AirWarnings warnings) {
    return warnings.air(Ledger.CHANNEL.room()).warnings().stream()
        .filter(one -> one.call() == AirCall.LEAVE)
        .count();
  }

  /** A live sample, ten seconds after the one before, until it is heard. */
  private void say(DashboardCore core, Speaker live, double level) throws MqttException {
    clock.pass(Duration.ofSeconds(10));
    said++;
    live.say(
        Ledger.CHANNEL.topic(Topic.READINGS),
        ReadingsBody.write(
            Ledger.CHANNEL,
            new DeviceMessage.Sample(
                new SampleTime.At(clock.now()),
                Optional.of(new OutboxPosition("live", said)),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                List.of(
                    Reading.of(Series.VOC_RAW, "", 30_000),
                    Reading.of(Series.VOC_LEVEL, Series.RATIO, level)))),
        false);
    Until.within(PATIENCE, "it is heard", () -> core.counts().samples() == said);
  }

  /** How far the outbox is committed; asking for it commits nothing. */
  private static long stored(DashboardCore core) {
    return core.store().marks().stream().mapToLong(one -> one.mark().sequence()).max().orElse(0);
  }
}
