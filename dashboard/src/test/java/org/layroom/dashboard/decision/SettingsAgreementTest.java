package org.layroom.dashboard.decision;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.MqttCallback;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.dashboard.testing.HandPace;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.dashboard.warning.AirWarnings;
import org.layroom.dashboard.warning.OpenWarning;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.Topic;

/**
 * What a device and the dashboard know of each other's decisions over partitions, restarts and
 * clocks that are wrong. The device is a hand that holds the other end of the line.
 */
class SettingsAgreementTest {
  private static final Duration SOON = Duration.ofSeconds(90);
  private static final Instant START = Instant.parse("2026-03-16T08:00:00Z");
  private static final Channel BENCH = Channel.of("shop", "bench");

  @TempDir Path folder;

  private final RealTime transport = new RealTime();
  private final HandPace pace = new HandPace(START);
  private final List<Acknowledgment> acknowledgments = new CopyOnWriteArrayList<>();
  private final List<DeviceSettings> settings = new CopyOnWriteArrayList<>();
  private Optional<DashboardCore> core = Optional.empty();
  private Optional<AirWarnings> warnings = Optional.empty();
  private Optional<MqttClient> line = Optional.empty();

  @BeforeEach
  void start() {
    DashboardCore started = DashboardCore.start(CoreSettings.embedded(folder, 0), pace, transport);
    core = Optional.of(started);
    warnings = Optional.of(AirWarnings.start(started, pace, 1));
    Until.within(SOON, "the dashboard is connected", () -> started.link().connected());
  }

  private void stop() {
    warnings.ifPresent(AirWarnings::close);
    core.ifPresent(DashboardCore::close);
  }

  private void restart() throws MqttException {
    hangUp();
    stop();
    start();
  }

  @AfterEach
  void close() throws MqttException {
    hangUp();
    stop();
    transport.close();
  }

  private AirWarnings warnings() {
    return warnings.orElseThrow();
  }

  private void hangUp() throws MqttException {
    if (line.isPresent()) {
      line.get().disconnect();
      line.get().close();
      line = Optional.empty();
    }
  }

  /** The device is there and hears what is said to it. */
  private void pickUp() throws MqttException {
    MqttClient client =
        new MqttClient(core.orElseThrow().brokerUri().toString(), "hand", new MemoryPersistence());
    client.setCallback(new Hand());
    client.connect(OutboxDevice.Login.dashboards(core.orElseThrow().logins()).options());
    client.subscribe(BENCH.topic(Topic.ACKNOWLEDGE), 1);
    client.subscribe(BENCH.topic(Topic.SETTINGS), 1);
    line = Optional.of(client);
  }

  private final class Hand implements MqttCallback {
    @Override
    public void connectionLost(Throwable cause) {}

    @Override
    public void messageArrived(String topic, MqttMessage message) throws MalformedMessage {
      if (topic.endsWith("acknowledge")) {
        acknowledgments.add(Acknowledgment.read(message.getPayload()));
      } else {
        settings.add(DeviceSettings.read(message.getPayload()));
      }
    }

    @Override
    public void deliveryComplete(IMqttDeliveryToken token) {}
  }

  private void says(String state, String id, AlarmState.Uses uses) {
    AlarmState alarm =
        new AlarmState(
            state, Optional.of(pace.now()), id, Optional.empty(), List.of("vapor"), "", "", uses);
    warnings().said(BENCH, Topic.ALARM, alarm.write());
  }

  private OpenWarning standing() {
    return warnings().air(BENCH.room()).warnings().stream()
        .filter(one -> one.source() == OpenWarning.Source.DEVICE)
        .findFirst()
        .orElseThrow();
  }

  private SettingsAgreement agreement() {
    return warnings().air(BENCH.room()).devices().get(0).agreement();
  }

  private static AlarmState.Uses uses(Instant decided) {
    return new AlarmState.Uses(Optional.of(decided), "Kim", Optional.empty());
  }

  private DeviceSettings newest() {
    return settings.get(settings.size() - 1);
  }

  /** Somebody decides who has not decided before. */
  private DeviceSettings decide(String who) {
    warnings().decide(BENCH.room(), who, decided -> decided.withVolumeM3(40));
    Until.within(
        SOON,
        "the device hears the decision",
        () -> !settings.isEmpty() && newest().by().equals(who));
    return newest();
  }

  @Test
  void whatWasSeenWhileTheDeviceWasAwayReachesItThoughTheDashboardRestarted() throws MqttException {
    says("leave", "run-1", AlarmState.Uses.NOTHING);
    warnings().acknowledge(BENCH.room(), standing().id(), "acknowledgment-1", "Kim");
    restart();
    restart();
    pickUp();
    says("leave", "run-1", AlarmState.Uses.NOTHING);
    Until.within(SOON, "the device hears it", () -> !acknowledgments.isEmpty());
    assertEquals(new Acknowledgment("run-1", "Kim", START), acknowledgments.get(0));
  }

  @Test
  void anotherAlarmOfTheDeviceIsNotTakenForTheOneThatWasSeen() throws MqttException {
    says("leave", "run-1", AlarmState.Uses.NOTHING);
    warnings().acknowledge(BENCH.room(), standing().id(), "acknowledgment-1", "Kim");
    restart();
    pickUp();
    says("ventilate", "run-2", AlarmState.Uses.NOTHING);
    says("leave", "run-3", AlarmState.Uses.NOTHING);
    DeviceSettings decided = decide("Kim");
    assertEquals("Kim", decided.by());
    assertEquals(List.of(), acknowledgments, "both were said before the decision came");
    assertEquals(Optional.empty(), standing().acknowledged());
  }

  @Test
  void twoWhoAcknowledgeTheSameAreBothInTheLogAndTheFirstIsShown() throws MqttException {
    pickUp();
    says("leave", "run-1", AlarmState.Uses.NOTHING);
    String id = standing().id();
    warnings().acknowledge(BENCH.room(), id, "acknowledgment-1", "Kim");
    warnings().acknowledge(BENCH.room(), id, "acknowledgment-2", "Lee");
    List<String> seen =
        warnings().log(BENCH.room(), 100).stream()
            .filter(one -> one.path("event").asText().equals("acknowledged"))
            .map(one -> one.path("who").asText())
            .toList();
    assertEquals(List.of("Lee", "Kim"), seen);
    Until.within(SOON, "the device hears", () -> !acknowledgments.isEmpty());
  }

  @Test
  void bothSidesCanSayWhichDecisionTheyGoByAndWhose() throws MqttException {
    pickUp();
    says("ok", "", AlarmState.Uses.NOTHING);
    assertEquals(SettingsAgreement.State.AGREED, agreement().state(), "nothing was ever decided");
    DeviceSettings decided = decide("Kim");
    assertEquals(START, decided.decided());
    assertEquals(SettingsAgreement.State.NOT_YET, agreement().state());
    says("ok", "", uses(decided.decided()));
    assertEquals(SettingsAgreement.State.AGREED, agreement().state());
    assertEquals(Optional.of(START), agreement().told());
    assertEquals("Kim", agreement().toldBy());
    assertEquals("Kim", agreement().usesBy());
    restart();
    says("ok", "", uses(decided.decided()));
    assertEquals(SettingsAgreement.State.AGREED, agreement().state(), "over a restart");
    assertEquals("Kim", agreement().toldBy());
  }

  @Test
  void aDeviceThatWasAwayForAMonthHearsTheLastDecisionThoughTheDashboardRestarted()
      throws MqttException {
    pickUp();
    says("ok", "", AlarmState.Uses.NOTHING);
    DeviceSettings first = decide("Kim");
    hangUp();
    pace.pass(Duration.ofDays(30));
    warnings().decide(BENCH.room(), "Lee", decided -> decided.withVolumeM3(55));
    restart();
    settings.clear();
    pickUp();
    says("ok", "", uses(first.decided()));
    Until.within(
        SOON, "it hears the decision", () -> !settings.isEmpty() && newest().by().equals("Lee"));
    assertTrue(newest().decided().isAfter(first.decided()));
  }

  @Test
  void aClockThatWasAheadAndIsPutRightDoesNotMakeTheDeviceDeaf() throws MqttException {
    pickUp();
    pace.setWallClock(START.plus(Duration.ofDays(365)));
    says("ok", "", AlarmState.Uses.NOTHING);
    Instant ahead = decide("Kim").decided();
    pace.setWallClock(START);
    assertTrue(decide("Lee").decided().isAfter(ahead), "the newest decision wins");
    restart();
    pickUp();
    says("ok", "", uses(ahead));
    Instant after = decide("Ann").decided();
    assertTrue(after.isAfter(ahead.plusMillis(1)), "over a restart too");
  }

  @Test
  void aDashboardThatCameBackFromAnOldBackupSaysSoAndItsNextDecisionCounts()
      throws MqttException, IOException {
    Path copy = folder.resolve("old.db");
    core.orElseThrow().store().copyTo(copy);
    pickUp();
    says("ok", "", AlarmState.Uses.NOTHING);
    Instant decided = decide("Kim").decided();
    hangUp();
    stop();
    StoreFolder.putInPlace(folder, copy, true);
    start();
    settings.clear();
    pickUp();
    says("ok", "", uses(decided));
    assertEquals(SettingsAgreement.State.DEVICE_NEWER, agreement().state());
    assertTrue(decide("Lee").decided().isAfter(decided));
  }
}
