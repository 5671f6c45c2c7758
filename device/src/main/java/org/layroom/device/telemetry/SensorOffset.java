package org.layroom.device.telemetry;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * What a sensor was found to be off by beside a reference, as it stands in settings and status.
 *
 * @param series which values it corrects
 * @param amount what is added to them, in their unit, -10 to 10; 0 where nothing is corrected any
 *     more
 * @param taken the day of the comparison
 * @param who compared; empty where nobody is named, as in a settings file
 */
public record SensorOffset(String series, double amount, LocalDate taken, String who) {
  /** A sensor that is off by more is broken or in the wrong place. */
  public static final double MOST = 10;

  public SensorOffset {
    if (!(Math.abs(amount) <= MOST)) {
      throw new IllegalArgumentException(
          "offset "
              + amount
              + " of "
              + series
              + ": must be from -10 to 10; a sensor that is off by more is faulty");
    }
    if (!Series.correctable(series)) {
      throw new IllegalArgumentException(
          "series \"" + series + "\": only temperatures and humidity are corrected");
    }
  }

  /** Such as {@code -0.40 of 2026-03-01}. */
  public String words() {
    return String.format(Locale.ROOT, "%+.2f of %s", amount, taken);
  }

  static void write(ObjectNode into, List<SensorOffset> offsets) {
    if (offsets.isEmpty()) {
      return;
    }
    var list = into.putArray("offsets");
    for (SensorOffset one : offsets) {
      list.addObject()
          .put("series", one.series())
          .put("amount", one.amount())
          .put("taken", one.taken().toString())
          .put("who", one.who());
    }
  }

  static List<SensorOffset> read(JsonNode from) throws MalformedMessage {
    List<SensorOffset> offsets = new ArrayList<>();
    try {
      for (JsonNode one : from.path("offsets")) {
        if (!one.path("amount").isNumber()) {
          throw new MalformedMessage("the amount of an offset must be a number");
        }
        offsets.add(
            new SensorOffset(
                one.path("series").asText(),
                one.path("amount").doubleValue(),
                LocalDate.parse(one.path("taken").asText()),
                one.path("who").asText()));
      }
    } catch (DateTimeParseException | IllegalArgumentException e) {
      throw new MalformedMessage("offsets: " + e.getMessage(), e);
    }
    return offsets;
  }
}
