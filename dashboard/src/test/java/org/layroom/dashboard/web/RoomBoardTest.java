package org.layroom.dashboard.web;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

class RoomBoardTest {
  private final Map<String, String> air = new LinkedHashMap<>();
  private int looked;
  private final RoomBoard board = new RoomBoard(this::list);

  private JsonNode list() {
    looked++;
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    ArrayNode rooms = json.putArray("rooms");
    air.forEach(
        (room, call) -> rooms.addObject().put("room", room).put("air", call).put("time", looked));
    json.putObject("counts").put("ok", air.size());
    return json;
  }

  private static String rooms(Optional<JsonNode> said) {
    TreeSet<String> names = new TreeSet<>();
    said.ifPresent(
        json -> json.path("rooms").forEach(line -> names.add(line.path("room").asText())));
    return said.isEmpty() ? "nothing" : names.toString();
  }

  @Test
  void eachHearsAllLinesAtFirstAndThenWhatHasChanged() {
    air.put("a", "ok");
    air.put("b", "ok");
    RoomBoard.Ear first = board.ear();
    assertEquals("[a, b]", rooms(first.get()));
    assertEquals("nothing", rooms(first.get()));
    board.age();
    assertEquals("nothing", rooms(first.get()), "worked out anew is not changed");
    air.put("b", "leave");
    board.age();
    RoomBoard.Ear second = board.ear();
    assertEquals("[b]", rooms(first.get()));
    assertEquals("[a, b]", rooms(second.get()));
    air.put("c", "ok");
    board.age();
    assertEquals("[c]", rooms(first.get()));
    assertEquals("[c]", rooms(second.get()));
  }

  /** A page that was too slow for some rounds hears of all that it missed. */
  @Test
  void whoMissesRoundsMissesNoChange() {
    air.put("a", "ok");
    air.put("b", "ok");
    RoomBoard.Ear slow = board.ear();
    slow.get();
    air.put("a", "ventilate");
    board.age();
    board.ear().get();
    air.put("b", "leave");
    board.age();
    assertEquals("[a, b]", rooms(slow.get()));
  }

  @Test
  void theLinesAreMadeOnceForAllWhoListen() {
    air.put("a", "ok");
    for (int i = 0; i < 10; i++) {
      board.ear().get();
    }
    assertEquals(1, looked);
    board.age();
    board.ear().get();
    assertEquals(2, looked);
  }

  @Test
  void noRoomsAtAllIsSaidOnce() {
    RoomBoard.Ear ear = board.ear();
    assertEquals("[]", rooms(ear.get()));
    assertEquals("nothing", rooms(ear.get()));
  }
}
