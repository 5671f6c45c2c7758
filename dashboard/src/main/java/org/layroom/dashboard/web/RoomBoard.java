package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * The lines of all rooms as those who listen know them: made once for all of them, and told to each
 * as what has changed since it was told last. A line that was only worked out anew has not changed.
 * Safe for any number of threads.
 */
final class RoomBoard {
  private static final String ROOM = "room";
  private static final String TIME = "time";

  private record Line(JsonNode json, JsonNode withoutTime, long version) {}

  private final Supplier<? extends JsonNode> list;
  private final Map<String, Line> lines = new LinkedHashMap<>();
  private JsonNode counts = JsonNodeFactory.instance.objectNode();
  private long version;
  private boolean old = true;

  /**
   * Knows no line yet.
   *
   * @param list all lines now, as {@code GET /api/rooms} gives them
   */
  RoomBoard(Supplier<? extends JsonNode> list) {
    this.list = list;
  }

  /** From now on the lines are looked at anew, once, when somebody asks. */
  synchronized void age() {
    old = true;
  }

  private void look() {
    if (!old) {
      return;
    }
    old = false;
    JsonNode now = list.get();
    version++;
    for (JsonNode line : now.path("rooms")) {
      ObjectNode withoutTime = line.deepCopy();
      withoutTime.remove(TIME);
      String room = line.path(ROOM).asText();
      Line known = lines.get(room);
      if (known == null || !known.withoutTime().equals(withoutTime)) {
        lines.put(room, new Line(line, withoutTime, version));
      }
    }
    counts = now.path("counts");
  }

  /** One who listens. */
  final class Ear implements Supplier<Optional<JsonNode>> {
    private long told;

    /** What has changed since the last call; all lines at first; empty when nothing has. */
    @Override
    public Optional<JsonNode> get() {
      synchronized (RoomBoard.this) {
        look();
        ObjectNode json = JsonNodeFactory.instance.objectNode();
        ArrayNode changed = json.putArray("rooms");
        lines.values().stream()
            .filter(line -> line.version() > told)
            .forEach(line -> changed.add(line.json()));
        boolean first = told == 0;
        told = version;
        json.set("counts", counts);
        return changed.isEmpty() && !first ? Optional.empty() : Optional.of(json);
      }
    }
  }

  Ear ear() {
    return new Ear();
  }
}
