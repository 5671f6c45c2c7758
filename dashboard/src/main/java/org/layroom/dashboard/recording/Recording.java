package org.layroom.dashboard.recording;

import java.io.IOException;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.CharacterCodingException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.Iterator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/**
 * A CSV file of readings with a {@code time} column and columns named with their units. Read as a
 * stream, so that its size does not matter; times must go forward.
 */
public final class Recording implements AutoCloseable {
  public static final String TIME = "time";
  public static final String TEMPERATURE = "temperature_degC";
  public static final String HUMIDITY = "humidity_pctRH";
  public static final String MOLD_TEMPERATURE = "mold_temperature_degC";
  public static final String VOC_RAW = "voc_raw";

  private static final CSVFormat FORMAT =
      CSVFormat.RFC4180
          .builder()
          .setHeader()
          .setSkipHeaderRecord(true)
          .setTrim(true)
          .setIgnoreEmptyLines(true)
          .setAllowMissingColumnNames(true)
          .setIgnoreSurroundingSpaces(true)
          .get();

  private final CSVParser parser;
  private final ZoneId zone;
  private final Set<String> columns;
  private final Set<String> required;
  private final List<String> ignored;

  private Recording(CSVParser parser, ZoneId zone, Set<String> required, Set<String> optional) {
    this.parser = parser;
    this.zone = zone;
    this.required = required;
    this.columns = new LinkedHashSet<>(required);
    this.columns.addAll(optional);
    this.columns.retainAll(parser.getHeaderNames());
    this.ignored = new ArrayList<>(parser.getHeaderNames());
    this.ignored.remove(TIME);
    this.ignored.removeAll(this.columns);
  }

  /**
   * Opens a recording.
   *
   * @param zone of times without an offset
   * @param required columns beside the time that must be there, in every row
   * @param optional columns that are read where they are
   * @throws UnusableRecording when it cannot be read or lacks a column
   */
  public static Recording open(Path file, ZoneId zone, Set<String> required, Set<String> optional)
      throws UnusableRecording {
    try {
      Reader reader = Files.newBufferedReader(file);
      try {
        CSVParser parser = CSVParser.parse(reader, FORMAT);
        Set<String> missing = new LinkedHashSet<>(List.of(TIME));
        missing.addAll(required);
        missing.removeAll(parser.getHeaderNames());
        if (!missing.isEmpty()) {
          throw new UnusableRecording(
              file
                  + " lacks the column "
                  + String.join(", ", missing)
                  + "; its first line names "
                  + String.join(", ", parser.getHeaderNames()));
        }
        return new Recording(parser, zone, required, optional);
      } catch (UnusableRecording | IOException | RuntimeException e) {
        reader.close();
        throw e;
      }
    } catch (NoSuchFileException e) {
      throw new UnusableRecording("There is no file " + file, e);
    } catch (IOException | IllegalArgumentException | UncheckedIOException e) {
      throw new UnusableRecording(file + " cannot be read as CSV: " + e.getMessage(), e);
    }
  }

  /** The columns that are not looked at. */
  public List<String> ignoredColumns() {
    return List.copyOf(ignored);
  }

  /**
   * Hands every usable row to one side and every bad row to the other, in the file's order.
   *
   * @throws UnusableRecording when the file cannot be read on
   */
  public void forEach(Consumer<Row> good, Consumer<BadRow> bad) throws UnusableRecording {
    Optional<Instant> previous = Optional.empty();
    Iterator<CSVRecord> records = parser.iterator();
    while (true) {
      long line = parser.getCurrentLineNumber() + 1;
      try {
        if (!records.hasNext()) {
          return;
        }
        CSVRecord record = records.next();
        line = parser.getCurrentLineNumber();
        Row row = row(line, record);
        if (previous.isPresent() && !row.time().isAfter(previous.get())) {
          throw new IllegalArgumentException(
              "time " + row.time() + " does not come after the row before it, " + previous.get());
        }
        previous = Optional.of(row.time());
        good.accept(row);
      } catch (IllegalArgumentException e) {
        bad.accept(new BadRow(line, String.valueOf(e.getMessage())));
      } catch (UncheckedIOException | IllegalStateException e) {
        if (e.getCause() instanceof CharacterCodingException) {
          throw new UnusableRecording("line " + line + " and on: not UTF-8 text", e);
        }
        throw new UnusableRecording(
            "line " + line + " and on cannot be read: " + e.getMessage(), e);
      }
    }
  }

  private Row row(long line, CSVRecord record) {
    if (!record.isConsistent()) {
      throw new IllegalArgumentException(
          record.size() + " cells where the first line names " + parser.getHeaderNames().size());
    }
    Instant time = IsoTimes.parse(record.get(TIME), zone);
    Map<String, Double> values = new HashMap<>();
    for (String column : columns) {
      String cell = record.get(column);
      if (!cell.isEmpty()) {
        values.put(column, number(column, cell));
      } else if (required.contains(column)) {
        throw new IllegalArgumentException(column + " is empty");
      }
    }
    return new Row(line, time, values);
  }

  private static double number(String column, String cell) {
    double value;
    try {
      value = Double.parseDouble(cell);
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException(column + " \"" + cell + "\" is not a number", e);
    }
    if (!Double.isFinite(value) || !cell.toLowerCase(Locale.ROOT).matches("[-+.0-9e]+")) {
      throw new IllegalArgumentException(column + " \"" + cell + "\" is not a number");
    }
    return value;
  }

  @Override
  public void close() {
    try {
      parser.close();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
