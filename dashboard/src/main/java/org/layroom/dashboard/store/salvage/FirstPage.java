package org.layroom.dashboard.store.salvage;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.layroom.dashboard.store.sqlite.Schema;
import org.layroom.dashboard.store.sqlite.SqliteFile;

/**
 * The first page of a store tells SQLite what the file is and where each table begins (SQLite
 * "Database File Format", sections 1.3 and 2.6). It is the same in every store of a version but for
 * counters, so that one that was lost can be taken from an empty store.
 */
final class FirstPage {
  private static final int PAGE_BYTES = 4096;
  private static final int HEADER_BYTES = 100;
  private static final int CHANGE_COUNTER = 24;
  private static final int SIZE_IN_PAGES = 28;
  private static final int FREE_LIST = 32;
  private static final int VERSION_VALID_FOR = 92;

  private final Path workshop;
  private final Schema schema;

  FirstPage(Path workshop, Schema schema) {
    this.workshop = workshop;
    this.schema = schema;
  }

  /** Makes a copy of a damaged store readable, perhaps. */
  interface Change {
    void on(Path copy) throws IOException;
  }

  /**
   * One way to make a copy readable.
   *
   * @param keepsTables whether the file itself still says where each table begins
   */
  record Patch(boolean keepsTables, Change change) {}

  /**
   * The gentlest first: only the size, the header, the page of a new store, of a copied one; each
   * of the newest version, then of those before it.
   */
  List<Patch> patches() throws SQLException, IOException {
    List<Patch> headers = new ArrayList<>();
    List<Patch> pages = new ArrayList<>();
    for (int version = schema.version(); version > 0; version--) {
      Schema one = new Schema(schema.migrations().subList(0, version));
      byte[] created = template(one, false);
      byte[] copied = template(one, true);
      headers.add(new Patch(true, copy -> write(copy, Arrays.copyOf(created, HEADER_BYTES))));
      pages.add(new Patch(false, copy -> write(copy, created)));
      pages.add(new Patch(false, copy -> write(copy, copied)));
    }
    List<Patch> all = new ArrayList<>();
    all.add(new Patch(true, copy -> write(copy, new byte[0])));
    all.addAll(headers);
    all.addAll(pages);
    return all;
  }

  private byte[] template(Schema one, boolean vacuumed) throws SQLException, IOException {
    Path file = workshop.resolve("empty.db");
    Files.deleteIfExists(file);
    try (Connection connection = SqliteFile.connect(file, false, 1024);
        Statement statement = connection.createStatement()) {
      one.bringUpToDate(connection);
      if (vacuumed) {
        statement.execute("vacuum");
      }
      statement.execute("pragma wal_checkpoint(truncate)");
    }
    return Arrays.copyOf(Files.readAllBytes(file), PAGE_BYTES);
  }

  /** Puts bytes at the beginning, and says there how large the file really is. */
  private static void write(Path copy, byte[] beginning) throws IOException {
    try (FileChannel channel =
        FileChannel.open(copy, StandardOpenOption.READ, StandardOpenOption.WRITE)) {
      long pages = Math.max(1, (channel.size() + PAGE_BYTES - 1) / PAGE_BYTES);
      if (channel.size() < pages * PAGE_BYTES) {
        channel.write(ByteBuffer.wrap(new byte[1]), pages * PAGE_BYTES - 1);
      }
      channel.write(ByteBuffer.wrap(beginning), 0);
      number(channel, SIZE_IN_PAGES, (int) pages);
      number(channel, CHANGE_COUNTER, 1);
      number(channel, VERSION_VALID_FOR, 1);
      number(channel, FREE_LIST, 0);
      number(channel, FREE_LIST + Integer.BYTES, 0);
    }
  }

  private static void number(FileChannel channel, int at, int value) throws IOException {
    channel.write(ByteBuffer.allocate(Integer.BYTES).putInt(0, value), at);
  }
}
