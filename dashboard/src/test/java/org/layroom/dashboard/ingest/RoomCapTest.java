package org.layroom.dashboard.ingest;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;

class RoomCapTest {
  private static final Instant START = Instant.parse("2026-03-16T08:00:00Z");

  private static Channel room(int i) {
    return Channel.of("room-" + i, "bench");
  }

  /** The two heaps are those of the shipped package and of its own tests. */
  @Test
  void moreHeapHoldsMoreRoomsAndTheSmallestHoldsOne() {
    assertEquals(250, RoomCap.ofHeap(192L << 20).most());
    assertTrue(RoomCap.ofHeap(512L << 20).most() > 2 * 250);
    assertEquals(1, RoomCap.ofHeap(16L << 20).most());
    assertThrows(IllegalArgumentException.class, () -> new RoomCap(0));
  }

  @Test
  void theRoomsHeardLastAreServedAndTheOthersAndNewOnesAreToldAsTooMany(@TempDir Path folder) {
    try (Store store = StoreFolder.open(folder)) {
      for (int i = 0; i < 5; i++) {
        Instant time = START.plusSeconds(i == 0 ? 1000 : i);
        store.append(
            List.of(
                new StoreEntry.Sample(
                    room(i),
                    Optional.of(new OutboxPosition("box", 1)),
                    SampleTimes.asSaid(time, time),
                    List.of(Reading.of("temperature", "Cel", 20)),
                    List.of())));
      }
      RoomCap cap = new RoomCap(3);
      assertEquals(
          List.of("room-0", "room-4", "room-3"),
          cap.served(store.sources()).stream().map(RoomName::value).toList());
      assertEquals(5, new RoomCap(5).served(store.sources()).size());
      SeriesCap caps = new SeriesCap(store.sources(), cap);
      assertTrue(caps.objection(room(0)).isEmpty());
      assertEquals(
          Optional.of("there are 3 rooms already, as many as this dashboard's memory holds"),
          caps.objection(room(1)));
      assertTrue(caps.objection(room(9)).isPresent(), "a new one");
    }
  }
}
