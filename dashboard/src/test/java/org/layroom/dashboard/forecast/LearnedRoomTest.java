package org.layroom.dashboard.forecast;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.room.LiveValue;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.room.ForecastPoint;
import org.layroom.predictor.room.NoForecast;
import org.layroom.predictor.room.RoomForecast;
import org.layroom.predictor.room.SeriesForecast;

/** A room is learned from what its devices have stored, whatever the order in which it came in. */
class LearnedRoomTest {
  private static final Instant START = Instant.parse("2026-02-02T00:00:00Z");
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final RoomName SHOP = RoomName.of("shop");

  @TempDir Path folder = Path.of("");

  private Optional<Store> opened = Optional.empty();

  @BeforeEach
  void open() {
    opened = Optional.of(StoreFolder.open(folder.resolve("data")));
  }

  @AfterEach
  void close() {
    store().close();
  }

  private Store store() {
    return opened.orElseThrow();
  }

  /** An invented room: warmest at 3 p.m., the same every day. */
  private static double truth(Instant time) {
    double hour = Duration.between(START, time).toMinutes() / 60.0;
    return 15 + 4 * Math.cos(2 * Math.PI * (hour - 15) / 24);
  }

  private void stored(Duration from, Duration to) {
    List<StoreEntry> entries = new ArrayList<>();
    for (Instant t = START.plus(from); t.isBefore(START.plus(to)); t = t.plusSeconds(120)) {
      entries.add(
          new StoreEntry.Sample(
              BENCH,
              Optional.empty(),
              SampleTimes.asSaid(t, t),
              List.of(
                  Reading.of("temperature", "Cel", truth(t)),
                  Reading.of("humidity", "%RH", 50),
                  Reading.of("mold-temperature", "Cel", truth(t) - 1)),
              List.of()));
    }
    store().append(entries);
  }

  private static RoomSnapshot snapshot(Duration at) {
    Instant now = START.plus(at);
    LiveValue mold =
        new LiveValue(
            BENCH.device(),
            Reading.of("mold-temperature", "Cel", 15),
            now,
            now,
            Duration.ofSeconds(5));
    return new RoomSnapshot(
        SHOP,
        now,
        true,
        Map.of("mold-temperature", mold),
        RoomSnapshot.Speakers.NONE,
        List.of(),
        List.of());
  }

  private LearnedRoom room(Optional<Path> outdoorFile) {
    return new LearnedRoom(store().history(), new OutdoorFile(outdoorFile, ZoneOffset.UTC));
  }

  private static RoomForecast forecast(LearnedRoom.Known known) {
    return assertInstanceOf(RoomForecast.class, known.answer());
  }

  private static double worst(SeriesForecast course, double off) {
    double worst = 0;
    for (ForecastPoint point : course.points()) {
      worst = Math.max(worst, Math.abs(point.p50() - truth(point.time()) - off));
    }
    return worst;
  }

  @Test
  void eightStoredDaysTellTheNextThree() {
    stored(Duration.ZERO, Duration.ofHours(200));
    LearnedRoom.Known known = room(Optional.empty()).learn(snapshot(Duration.ofHours(200)), false);
    // The last whole slot ends five minutes before the full hour.
    assertEquals(START.plus(Duration.ofMinutes(200 * 60 - 5)), known.at());
    RoomForecast forecast = forecast(known);
    assertEquals(Duration.ofMinutes(5), forecast.newestReadingAge());
    assertTrue(worst(forecast.air(), 0) < 0.8, "air " + worst(forecast.air(), 0));
    SeriesForecast mold = forecast.mold().orElseThrow();
    assertTrue(worst(mold, -1) < 0.8, "mold " + worst(mold, -1));
    assertEquals(432, forecast.humidity().orElseThrow().points().size());
  }

  @Test
  void learningSlotBySlotTellsTheSameAsLearningAtOnce() {
    LearnedRoom online = room(Optional.empty());
    for (int hours = 12; hours <= 72; hours += 12) {
      stored(Duration.ofHours(hours - 12), Duration.ofHours(hours));
      online.learn(snapshot(Duration.ofHours(hours)), false);
    }
    RoomForecast atOnce =
        forecast(room(Optional.empty()).learn(snapshot(Duration.ofDays(3)), false));
    RoomForecast inSteps = forecast(online.learn(snapshot(Duration.ofDays(3)), false));
    for (int i = 0; i < atOnce.air().points().size(); i++) {
      assertEquals(atOnce.air().points().get(i).p50(), inSteps.air().points().get(i).p50(), 1e-6);
    }
  }

  @Test
  void readingsThatComeInLateAreLearnedFromTheBeginning() {
    stored(Duration.ofHours(190), Duration.ofHours(200));
    LearnedRoom late = room(Optional.empty());
    RoomForecast young = forecast(late.learn(snapshot(Duration.ofHours(200)), false));
    assertTrue(worst(young.air(), 0) > 1, "ten hours cannot tell three days");
    stored(Duration.ZERO, Duration.ofHours(190));
    RoomForecast whole = forecast(late.learn(snapshot(Duration.ofHours(200)), true));
    assertTrue(worst(whole.air(), 0) < 0.8, "air " + worst(whole.air(), 0));
  }

  @Test
  void aRoomNotSeenLongEnoughIsUnknownAndSaysWhatItTakes() {
    stored(Duration.ZERO, Duration.ofHours(2));
    LearnedRoom.Known known = room(Optional.empty()).learn(snapshot(Duration.ofHours(2)), false);
    NoForecast unknown = assertInstanceOf(NoForecast.class, known.answer());
    assertTrue(unknown.refused().get(0).reason().contains("three hours"));
  }

  @Test
  void anOutdoorFileIsReadAnewWhenItHasChanged() throws Exception {
    Path path = folder.resolve("outdoor.csv");
    Files.writeString(path, "time,temperature_degC\n2026-02-02T00:00Z,5\n");
    OutdoorFile file = new OutdoorFile(Optional.of(path), ZoneOffset.UTC);
    int first = file.version();
    assertEquals(Map.of(START, 5.0), file.values());
    assertEquals(first, file.version());
    Files.writeString(path, "time,temperature_degC\n2026-02-02T00:00Z,-15\n");
    Files.setLastModifiedTime(path, FileTime.from(START));
    assertNotEquals(first, file.version());
    assertEquals(Map.of(START, -15.0), file.values());
  }

  @Test
  void aBadOrMissingOutdoorFileIsDoneWithout() throws Exception {
    stored(Duration.ZERO, Duration.ofHours(200));
    Path file = folder.resolve("outdoor.csv");
    LearnedRoom missing = room(Optional.of(file));
    assertEquals(
        forecast(room(Optional.empty()).learn(snapshot(Duration.ofHours(200)), false))
            .air()
            .points(),
        forecast(missing.learn(snapshot(Duration.ofHours(200)), false)).air().points());
    Files.writeString(file, "nonsense\n");
    assertEquals(
        432, forecast(missing.learn(snapshot(Duration.ofHours(200)), false)).air().points().size());
  }
}
