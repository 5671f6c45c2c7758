package org.layroom.dashboard.answer;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.Writer;
import java.time.Instant;
import java.util.List;
import org.layroom.device.telemetry.RoomName;

/**
 * The good readings of a room as one JSON object: {@code room}, {@code from}, {@code to}, and
 * {@code readings}, an object for each moment in which something was measured, with the columns of
 * the CSV as names; what was not measured or not good is left out.
 */
final class ReadingsJson {
  private ReadingsJson() {}

  /**
   * Writes the readings in {@code [from, to)}.
   *
   * @throws IOException when they cannot be written
   */
  static void write(RoomName room, ReadingsRows rows, Instant from, Instant to, Writer out)
      throws IOException {
    List<String> columns = rows.columns();
    JsonGenerator json = new JsonFactory().createGenerator(out);
    json.writeStartObject();
    json.writeStringField("room", room.value());
    json.writeStringField("from", from.toString());
    json.writeStringField("to", to.toString());
    json.writeArrayFieldStart("readings");
    rows.each(
        from,
        to,
        (time, values) -> {
          json.writeStartObject();
          json.writeStringField("time", time.toString());
          for (int column = 0; column < values.length; column++) {
            if (!Double.isNaN(values[column])) {
              json.writeNumberField(columns.get(column), values[column]);
            }
          }
          json.writeEndObject();
        });
    json.writeEndArray();
    json.writeEndObject();
    json.flush();
  }
}
