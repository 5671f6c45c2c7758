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
  public static final String RESIN_TEMPERATURE = "resin_temperature_degC";
  public static final String VOC_RAW = "voc_raw";

  /** Cells of a value that was not measured. */
  private static final Set<String> EMPTY = Set.of("", "NA", "NaN", "nan", "null");

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
  private final Header header;
  private final Set<String> columns;
  private final Set<String> required;

  private Recording(
      CSVParser parser, ZoneId zone, Header header, Set<String> columns, Set<String> required) {
    this.parser = parser;
    this.zone = zone;
    this.header = header;
    this.required = required;
    this.columns = columns;
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
    return open(file, zone, required, optional, required);
  }

  /**
   * Opens a recording in which any cell may be empty: not measured then.
   *
   * @param zone of times without an offset
   * @param needed columns beside the time that must be there
   * @param optional columns that are read where they are
   * @throws UnusableRecording when it cannot be read or lacks a column
   */
  public static Recording openWithGaps(
      Path file, ZoneId zone, Set<String> needed, Set<String> optional) throws UnusableRecording {
    return open(file, zone, needed, optional, Set.of());
  }

  private static Recording open(
      Path file, ZoneId zone, Set<String> needed, Set<String> optional, Set<String> filled)
      throws UnusableRecording {
    try {
      Reader reader = Files.newBufferedReader(file);
      try {
        CSVParser parser = CSVParser.parse(reader, FORMAT);
        Set<String> columns = new LinkedHashSet<>(needed);
        columns.addAll(optional);
        Header header = Header.of(parser.getHeaderNames(), columns);
        Set<String> missing = new LinkedHashSet<>(List.of(TIME));
        missing.addAll(needed);
        missing.removeIf(column -> header.name(column).isPresent());
        if (!missing.isEmpty()) {
          throw new UnusableRecording(
              file
                  + " lacks the column "
                  + String.join(", ", missing)
                  + "; its first line has "
                  + String.join(", ", parser.getHeaderNames()));
        }
        columns.removeIf(column -> header.name(column).isEmpty());
        return new Recording(parser, zone, header, columns, filled);
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
    return header.ignored();
  }

  /** The columns whose unit had to be supposed, one sentence each. */
  public List<String> supposed() {
    return header.supposed();
  }

  /**
   * Hands every usable row to one side and every bad row to the other, in the file's order.
   *
   * @throws UnusableRecording when the file cannot be read on
   */
  public void forEach(Consumer<Row> good, Consumer<BadRow> bad) throws UnusableRecording {
    forEachUntil(Instant.MAX, good, bad);
  }

  /**
   * The same for the rows up to a time. Of a later row nothing but its time is looked at; a row
   * without a readable time is told unless it stands behind a later row.
   *
   * @throws UnusableRecording when the file cannot be read on
   */
  public void forEachUntil(Instant end, Consumer<Row> good, Consumer<BadRow> bad)
      throws UnusableRecording {
    boolean beyond = false;
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
        Optional<Instant> time = beyond ? readableTime(record) : Optional.of(time(record));
        if (time.isEmpty() || time.get().isAfter(end)) {
          beyond = true;
          continue;
        }
        Row row = row(line, record);
        if (previous.isPresent() && !row.time().isAfter(previous.get())) {
          throw new IllegalArgumentException(
              "time " + row.time() + " is not later than the row before it, " + previous.get());
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

  private Optional<Instant> readableTime(CSVRecord record) {
    try {
      return Optional.of(time(record));
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  private Instant time(CSVRecord record) {
    String time = record.get(header.name(TIME).orElseThrow());
    Optional<String> date = header.date();
    return IsoTimes.parse(
        date.isPresent() && time.matches("\\d{1,2}:.*")
            ? record.get(date.get()) + "T" + time
            : time,
        zone);
  }

  private Row row(long line, CSVRecord record) {
    if (!record.isConsistent()) {
      throw new IllegalArgumentException(
          record.size() + " cells; the first line has " + parser.getHeaderNames().size());
    }
    Map<String, Double> values = new HashMap<>();
    for (String column : columns) {
      String name = header.name(column).orElseThrow();
      String cell = record.get(name);
      if (!EMPTY.contains(cell)) {
        values.put(column, number(name, cell));
      } else if (required.contains(column)) {
        throw new IllegalArgumentException(name + " is empty");
      }
    }
    return new Row(line, time(record), values);
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
