package org.layroom.dashboard.answer;

import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/**
 * The good readings of a room as CSV (RFC 4180), a row for each moment in which something was
 * measured; what was not measured or not good stays empty. Times in UTC, ISO 8601. Other commands
 * read the file back.
 */
final class ReadingsCsv {
  private ReadingsCsv() {}

  /**
   * Writes the readings in {@code [from, to)}.
   *
   * @throws IOException when they cannot be written
   */
  static void write(ReadingsRows rows, Instant from, Instant to, Appendable out)
      throws IOException {
    CSVPrinter csv = new CSVPrinter(out, CSVFormat.RFC4180);
    List<String> head = new ArrayList<>(List.of("time"));
    head.addAll(rows.columns());
    csv.printRecord(head);
    rows.each(
        from,
        to,
        (time, values) -> {
          List<String> cells = new ArrayList<>(List.of(time.toString()));
          for (double value : values) {
            cells.add(Double.isNaN(value) ? "" : Double.toString(value));
          }
          csv.printRecord(cells);
        });
    csv.flush();
  }
}
