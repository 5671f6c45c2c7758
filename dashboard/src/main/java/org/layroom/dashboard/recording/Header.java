package org.layroom.dashboard.recording;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The first line of a recording: which of its columns is what. Names are compared without regard to
 * case, spaces and signs ({@code Temperature (°C)} is {@code temperature_c}); a few usual spellings
 * are known beside the project's own.
 */
final class Header {
  private static final Map<String, List<String>> SPELLINGS =
      Map.of(
          Recording.TIME,
          List.of("timestamp", "datetime", "date_time"),
          Recording.TEMPERATURE,
          List.of(
              "temperature_c",
              "air_temperature_degc",
              "air_temperature_c",
              "temp_degc",
              "temp_c",
              "temperature",
              "air_temperature",
              "temp"),
          Recording.HUMIDITY,
          List.of(
              "humidity_pct",
              "humidity_%rh",
              "humidity_%",
              "relative_humidity_pct",
              "relative_humidity_%",
              "rh_pct",
              "rh_%",
              "humidity",
              "relative_humidity",
              "humi",
              "rh"),
          Recording.MOLD_TEMPERATURE,
          List.of("mold_temperature_c", "mold_temp_degc", "mold_temp_c", "mold_temperature"),
          Recording.VOC_RAW,
          List.of("voc_raw_ticks"));

  private static final Set<String> WITHOUT_UNIT =
      Set.of(
          "temperature",
          "air_temperature",
          "temp",
          "humidity",
          "relative_humidity",
          "humi",
          "rh",
          "mold_temperature");

  private final List<String> names;
  private final Map<String, String> found = new LinkedHashMap<>();

  private Header(List<String> names) {
    this.names = names;
  }

  /** Finds the columns wanted among the names of the first line. */
  static Header of(List<String> names, Set<String> wanted) {
    Header header = new Header(names);
    header.look(Recording.TIME);
    wanted.forEach(header::look);
    return header;
  }

  private void look(String column) {
    List<String> spellings = new ArrayList<>(List.of(plain(column)));
    spellings.addAll(SPELLINGS.getOrDefault(column, List.of()));
    for (String spelling : spellings) {
      for (String name : names) {
        if (plain(name).equals(spelling)) {
          found.putIfAbsent(column, name);
        }
      }
    }
  }

  private static String plain(String name) {
    return name.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9%]+", "_").replaceAll("^_+|_+$", "");
  }

  /** What a column is called in this file. */
  Optional<String> name(String column) {
    return Optional.ofNullable(found.get(column));
  }

  /** The column of days, where time is split into day and clock time. */
  Optional<String> date() {
    return names.stream().filter(name -> plain(name).equals("date")).findFirst();
  }

  /** The columns that are not looked at. */
  List<String> ignored() {
    List<String> ignored = new ArrayList<>(names);
    ignored.removeAll(found.values());
    date().ifPresent(ignored::remove);
    return ignored;
  }

  /** One sentence for each column whose unit had to be supposed. */
  List<String> supposed() {
    List<String> notes = new ArrayList<>();
    found.forEach(
        (column, name) -> {
          if (WITHOUT_UNIT.contains(plain(name))) {
            String unit = column.equals(Recording.HUMIDITY) ? "% relative humidity" : "degC";
            notes.add("Column " + name + " has no unit; assumed: " + unit + ".");
          }
        });
    return notes;
  }
}
