package org.layroom.dashboard.answer;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;

/** Every sample that is kept is a row of an export. */
class ReadingsRowsTest {
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Channel SHELF = Channel.of("shop", "shelf");
  private static final RoomName ROOM = BENCH.room();
  private static final Instant NOON = Instant.parse("2026-11-02T12:00:00Z");

  @TempDir Path folder;

  private static StoreEntry.Sample sample(Channel channel, long sequence, Reading... readings) {
    return new StoreEntry.Sample(
        channel,
        Optional.of(new OutboxPosition("box", sequence)),
        SampleTimes.asSaid(NOON, NOON.plusSeconds(1)),
        List.of(readings),
        List.of());
  }

  private static Reading temperature(double celsius) {
    return Reading.of("temperature", "Cel", celsius);
  }

  private static Reading humidity(double percent) {
    return Reading.of("humidity", "%RH", percent);
  }

  /** Temperature and humidity of each row. */
  private static List<List<Double>> rows(Store store) throws IOException {
    List<List<Double>> rows = new ArrayList<>();
    new ReadingsRows(store, ROOM, Set.of())
        .each(
            NOON.minusSeconds(60),
            NOON.plusSeconds(60),
            (time, values) -> rows.add(List.of(values[0], values[1])));
    return rows;
  }

  /** So it is where a device's clock runs ahead: its samples are dated when they came in. */
  @Test
  void samplesOfOneDeviceAndOneMillisecondAreRowsOfTheirOwn() throws IOException {
    try (Store store = StoreFolder.open(folder)) {
      store.append(
          List.of(
              sample(BENCH, 1, temperature(20)),
              sample(BENCH, 2, temperature(21), humidity(50)),
              sample(BENCH, 3, temperature(22), humidity(51))));
      assertEquals(
          List.of(List.of(20.0, Double.NaN), List.of(21.0, 50.0), List.of(22.0, 51.0)),
          rows(store));
    }
  }

  @Test
  void samplesOfTwoDevicesAndOneMillisecondAreOneRow() throws IOException {
    try (Store store = StoreFolder.open(folder)) {
      store.append(List.of(sample(BENCH, 1, temperature(20)), sample(SHELF, 1, humidity(50))));
      assertEquals(List.of(List.of(20.0, 50.0)), rows(store));
    }
  }

  @Test
  void whatIsNotGoodOrNotTheChosenDevicesIsNoRow() throws IOException {
    Reading doubtful = Reading.of("temperature", "Cel", 19, Quality.suspect("stuck"));
    try (Store store = StoreFolder.open(folder)) {
      store.append(
          List.of(
              sample(BENCH, 1, doubtful),
              sample(BENCH, 2, temperature(20)),
              sample(SHELF, 1, temperature(25))));
      assertEquals(List.of(List.of(20.0, Double.NaN)), rows(store));
    }
  }
}
