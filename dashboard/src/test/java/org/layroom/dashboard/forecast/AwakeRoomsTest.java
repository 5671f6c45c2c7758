package org.layroom.dashboard.forecast;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Duration;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.layroom.device.telemetry.RoomName;

/** A house of many rooms is forecast where somebody looks, and never more of it than fits. */
class AwakeRoomsTest {
  private Duration now = Duration.ofHours(1);
  private final AwakeRooms awake = new AwakeRooms(10, () -> now);

  private static List<RoomName> rooms(int count) {
    return IntStream.rangeClosed(1, count).mapToObj(i -> RoomName.of("room-" + i)).toList();
  }

  @Test
  void aHouseOfAFewRoomsIsAllAwake() {
    List<RoomName> few = rooms(AwakeRooms.ALWAYS);
    assertEquals(Set.copyOf(few), awake.of(few));
  }

  @Test
  void ofManyRoomsThoseAskedAboutAreAwakeForTenMinutes() {
    List<RoomName> many = rooms(30);
    assertEquals(Set.of(), awake.of(many));
    awake.asked(many.get(4));
    now = now.plusSeconds(599);
    awake.asked(many.get(7));
    assertEquals(Set.of(many.get(4), many.get(7)), awake.of(many));
    now = now.plusSeconds(2);
    assertEquals(Set.of(many.get(7)), awake.of(many));
  }

  @Test
  void theLatestQuestionsCountWhenNotAllFit() {
    List<RoomName> many = rooms(30);
    for (RoomName room : many) {
      now = now.plusSeconds(1);
      awake.asked(room);
    }
    assertEquals(Set.copyOf(many.subList(20, 30)), awake.of(many));
  }

  @Test
  void aRoomThatIsNotThereIsNotAwake() {
    awake.asked(RoomName.of("elsewhere"));
    assertEquals(Set.of(), awake.of(rooms(30)));
  }
}
