package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.CompletableFuture;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.RoomListener;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.testing.HandPace;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.dashboard.warning.AirWarnings;
import org.layroom.dashboard.warning.OpenWarning;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.ReadingsBody;
import org.layroom.device.telemetry.SampleTime;
import org.layroom.device.telemetry.Series;
import org.layroom.device.telemetry.Topic;
import org.layroom.predictor.vapor.AirCall;

/** Old readings in the thousands beside a live alarm. */
@ExtendWith(Campaign.class)
class AlarmFaultsIT {
  private static final Duration PATIENCE = Duration.ofSeconds(90);
  private static final int STALE = 10_000;
  private static final double CLEAN = 1;
  private static final double FOUL = 20;

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  private final RealTime transport = new RealTime();

  @AfterEach
  void stopTime() {
    transport.close();
  }

  /** One shop with a live device, and an ear for the warnings that are told on MQTT. */
  private final class Shop implements AutoCloseable {
    private final HandPace clock = new HandPace(Instant.parse("2026-03-02T18:00:00Z"));
    private final DashboardCore core;
    private final AirWarnings warnings;
    private final Paired paired;
    private final Speaker ear;
    private final Speaker live;
    private final CompletableFuture<Long> foulWhenTold = new CompletableFuture<>();
    private int said;
    private volatile long watched;

    Shop(String data) throws MqttException {
      core = DashboardCore.start(CoreSettings.embedded(folder.resolve(data), 0), clock, transport);
      warnings = AirWarnings.start(core, clock, 1);
      core.addListener(new AfterTheWarnings());
      paired = Paired.with(core.logins());
      live = Speaker.connected(core.brokerUri(), Ledger.CHANNEL.clientId(), paired.device());
      ear = Speaker.connected(core.brokerUri(), "ear", paired.dashboard());
      ear.hear(
          Topic.warnings(Ledger.CHANNEL.room()),
          body -> {
            if (new String(body, StandardCharsets.UTF_8).contains("\"state\":\"leave\"")) {
              foulWhenTold.complete(stored("foul"));
            }
          });
      live.awaitHeard(core, Ledger.CHANNEL);
    }

    /** A live sample, ten seconds after the one before. */
    void say(double level) throws MqttException {
      clock.pass(Duration.ofSeconds(10));
      said++;
      live.say(Ledger.CHANNEL.topic(Topic.READINGS), body("live", said, clock.now(), level), false);
    }

    void sayAndWait(double level) throws MqttException {
      say(level);
      long sequence = said;
      Until.within(PATIENCE, "live sample " + sequence, () -> watched >= sequence);
    }

    /** Listeners are told one after the other, so what this one hears the warnings have judged. */
    private final class AfterTheWarnings implements RoomListener {
      @Override
      public void stored(StoreEntry.Sample sample, boolean backlog) {
        sample
            .position()
            .filter(position -> position.outbox().equals("live"))
            .ifPresent(position -> watched = position.sequence());
      }
    }

    boolean marked(String outbox, long sequence) {
      return stored(outbox) >= sequence;
    }

    /** How far an outbox is stored. */
    long stored(String outbox) {
      return core.store().marks().stream()
          .filter(mark -> mark.mark().outbox().equals(outbox))
          .mapToLong(mark -> mark.mark().sequence())
          .max()
          .orElse(0);
    }

    long raised(String state) {
      return warnings.log(Ledger.CHANNEL.room(), 1000).stream()
          .filter(one -> one.path("event").asText().equals("raised"))
          .filter(one -> one.path("state").asText().equals(state))
          .count();
    }

    Optional<OpenWarning> leave() {
      return warnings.air(Ledger.CHANNEL.room()).warnings().stream()
          .filter(one -> one.call() == AirCall.LEAVE)
          .findFirst();
    }

    @Override
    public void close() throws MqttException {
      live.close();
      ear.close();
      warnings.close();
      core.close();
    }
  }

  private static byte[] body(String outbox, long sequence, Instant time, double level) {
    return ReadingsBody.write(
        Ledger.CHANNEL,
        new DeviceMessage.Sample(
            new SampleTime.At(time),
            Optional.of(new OutboxPosition(outbox, sequence)),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            List.of(
                Reading.of(Series.VOC_RAW, "", 30_000),
                Reading.of(Series.VOC_LEVEL, Series.RATIO, level))));
  }

  /**
   * Ten thousand readings, one to twenty-nine hours old, as fast as the broker takes them, and more
   * until something has come; beside the device's own connection, as if they had waited at the
   * broker.
   *
   * @return how many there were
   */
  private static CompletableFuture<Integer> backlog(
      Shop shop, String outbox, double level, CompletableFuture<?> until) {
    Instant now = shop.clock.now();
    return CompletableFuture.supplyAsync(
        () -> {
          try (Speaker speaker =
              Speaker.connected(shop.core.brokerUri(), outbox, shop.paired.dashboard())) {
            int said = 0;
            while (said < STALE || !until.isDone()) {
              Instant time = now.minus(Duration.ofHours(29)).plusSeconds(10L * (said % STALE));
              said++;
              speaker.say(
                  Ledger.CHANNEL.topic(Topic.READINGS), body(outbox, said, time, level), false);
            }
            speaker.finish();
            return said;
          } catch (MqttException e) {
            throw new IllegalStateException(e);
          }
        });
  }

  /** How many foul samples in a row raise it when nothing disturbs. */
  private int samplesToLeave() throws MqttException {
    try (Shop shop = new Shop("undisturbed")) {
      breatheCleanAir(shop);
      for (int foul = 1; foul <= 60; foul++) {
        shop.sayAndWait(FOUL);
        if (shop.leave().isPresent()) {
          return foul;
        }
      }
    }
    throw new AssertionError("ten minutes of foul air raise nothing");
  }

  private static void breatheCleanAir(Shop shop) throws MqttException {
    for (int i = 0; i < 90; i++) {
      shop.sayAndWait(CLEAN);
    }
    assertEquals(Optional.empty(), shop.leave());
  }

  @Test
  @Fault(
      value =
          "ten thousand stale readings at 20 times clean air just as live air turns foul, then ten"
              + " thousand of clean air while the alarm stands",
      promised =
          "old readings raise and end nothing; the live warning is told before ten thousand more of"
              + " them are stored")
  void staleBacklogBesideALiveAlarm(Witness witness) throws Exception {
    int needed = samplesToLeave();
    long most = 0;
    int rounds = witness.times(1, 20);
    for (int round = 0; round < rounds; round++) {
      try (Shop shop = new Shop("shop-" + round)) {
        breatheCleanAir(shop);
        for (int i = 1; i < needed; i++) {
          shop.sayAndWait(FOUL);
        }
        assertEquals(0, shop.raised("leave"), "not yet");
        CompletableFuture<Integer> foul = backlog(shop, "foul", FOUL, shop.foulWhenTold);
        Until.within(PATIENCE, "the backlog comes in", () -> shop.marked("foul", STALE / 10));
        assertEquals(0, shop.raised("leave"), "old readings raise nothing");
        long before = shop.stored("foul");
        shop.say(FOUL);
        Until.within(PATIENCE, "the warning is told", shop.foulWhenTold::isDone);
        long meanwhile = shop.foulWhenTold.join() - before;
        int last = foul.join();
        Until.within(PATIENCE, "the backlog is stored", () -> shop.marked("foul", last));
        String id = shop.leave().orElseThrow().id();
        backlog(shop, "clean", CLEAN, shop.foulWhenTold).join();
        Until.within(PATIENCE, "the backlog is stored", () -> shop.marked("clean", STALE));
        assertEquals(id, shop.leave().orElseThrow().id(), "the same warning stands");
        assertEquals(1, shop.raised("leave"));
        assertTrue(meanwhile < STALE, "told after " + meanwhile + " more of the backlog");
        most = Math.max(most, meanwhile);
      }
    }
    witness.saw("%d rounds, raised once each by live sample %d", rounds, needed);
    witness.saw("told while %d more of the backlog were stored", most);
  }
}
