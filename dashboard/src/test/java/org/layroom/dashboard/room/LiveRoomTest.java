package org.layroom.dashboard.room;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.testing.HandPace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;

/** What a room shows, and how old it says it is. */
class LiveRoomTest {
  private static final Instant NOON = Instant.parse("2026-11-02T12:00:00Z");
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Channel ANNEX = Channel.of("shop", "annex");

  private final HandPace pace = new HandPace(NOON);
  private final LiveRoom room = new LiveRoom(RoomName.of("shop"), pace);

  private void measured(Channel channel, Duration before, Reading reading) {
    room.take(
        new StoreEntry.Sample(
            channel,
            Optional.empty(),
            SampleTimes.asSaid(pace.now().minus(before), pace.now()),
            List.of(reading),
            List.of()));
  }

  private static Reading temperature(double celsius) {
    return Reading.of("temperature", "Cel", celsius);
  }

  private LiveValue shown(String series) {
    return room.snapshot(true).value(series).orElseThrow();
  }

  @Test
  void aValueAgesWithRunningTimeAndNotWithTheWallClock() {
    measured(BENCH, Duration.ofSeconds(5), temperature(20));
    pace.pass(Duration.ofSeconds(10));
    pace.setWallClock(NOON.plus(Duration.ofDays(30)));
    assertEquals(Duration.ofSeconds(15), shown("temperature").age());
  }

  @Test
  void backlogDoesNotReplaceANewerValue() {
    measured(BENCH, Duration.ZERO, temperature(20));
    measured(BENCH, Duration.ofHours(1), temperature(5));
    assertEquals(20, shown("temperature").reading().value().orElseThrow());
  }

  @Test
  void theDeviceFirstHeardOfSpeaksWhateverItsNameUnlessAnotherIsChosen() {
    measured(BENCH, Duration.ZERO, temperature(20));
    measured(ANNEX, Duration.ZERO, temperature(10));
    assertEquals(20, shown("temperature").reading().value().orElseThrow());
    assertEquals(
        List.of("bench", "annex"),
        room.snapshot(true).speakers().of("temperature").stream()
            .map(value -> value.device().value())
            .toList());
    room.choose("temperature", DeviceName.of("annex"));
    assertEquals(10, shown("temperature").reading().value().orElseThrow());
    room.choose("temperature", DeviceName.of("gone"));
    assertFalse(room.snapshot(true).value("temperature").isPresent());
  }

  @Test
  void onlyAGoodAndRecentValueIsFresh() {
    measured(BENCH, Duration.ZERO, temperature(20));
    Duration limit = Duration.ofMinutes(2);
    assertTrue(room.snapshot(true).fresh("temperature", limit).isPresent());
    pace.pass(Duration.ofSeconds(121));
    assertFalse(room.snapshot(true).fresh("temperature", limit).isPresent());
    measured(BENCH, Duration.ZERO, Reading.of("temperature", "Cel", 20, Quality.suspect("stuck")));
    assertFalse(room.snapshot(true).fresh("temperature", limit).isPresent());
    measured(BENCH, Duration.ZERO, Reading.missing("temperature", "Cel", "no answer"));
    assertFalse(room.snapshot(true).fresh("temperature", limit).isPresent());
    assertTrue(room.snapshot(true).value("temperature").isPresent());
  }

  @Test
  void theVocWindowHoldsFifteenMinutes() {
    for (int minute = 0; minute < 30; minute++) {
      measured(BENCH, Duration.ZERO, Reading.of("voc-raw", "", 30_000 + minute));
      pace.pass(Duration.ofMinutes(1));
    }
    List<RoomSnapshot.TimedValue> window = room.snapshot(true).vocRaw();
    assertEquals(15, window.size());
    assertEquals(30_015, window.get(0).value());
    assertEquals(Duration.ofMinutes(15), window.get(0).age());
  }

  @Test
  void aDevicesStatusIsShownWithSince() {
    DeviceStatus online = new DeviceStatus(true, Optional.empty(), List.of());
    room.take(new StoreEntry.Status(BENCH, online, NOON));
    room.take(new StoreEntry.Status(BENCH, online, NOON.plusSeconds(30)));
    assertEquals(NOON, room.snapshot(true).devices().get(0).said().orElseThrow().since());
  }
}
