package org.layroom.dashboard.scale;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Properties;
import org.layroom.dashboard.app.Dashboard;
import org.layroom.dashboard.config.SettingsFile;
import org.layroom.dashboard.store.History;
import org.layroom.dashboard.store.Level;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.dashboard.store.sqlite.SqliteFile;
import org.layroom.device.files.FolderTree;
import org.layroom.device.pace.RealPace;

/**
 * Builds a store of 400 days of one device and prints goals and figures as a table: strips at the
 * store and over HTTP, a scan of the raw rows and plain SQLite in the same run, and sizes.
 */
public final class StoreScale {
  private static final int DAYS = Integer.getInteger("layroom.scale.days", 400);
  private static final int INGEST_DAYS = 10;
  private static final int BATCH = 1000;
  private static final int POINTS = 1000;
  private static final int WARM = 40;
  private static final int TIMES = 61;

  private final Path folder;
  private final List<String> table = new ArrayList<>();

  private StoreScale(Path folder) {
    this.folder = folder;
  }

  /**
   * Takes no arguments. The store is made in a temporary folder and deleted; one that was made
   * before may be named, and stays.
   */
  public static void main(String[] arguments) throws Exception {
    String kept = System.getProperty("layroom.scale.folder", "");
    if (!kept.isEmpty()) {
      new StoreScale(Path.of(kept)).run();
      return;
    }
    Path folder = Files.createTempDirectory("layroom-scale");
    try {
      new StoreScale(folder).run();
    } finally {
      FolderTree.delete(folder);
    }
  }

  private void run() throws Exception {
    row("what", "goal", "figure");
    row("---", "---", "---");
    Path data = folder.resolve("data");
    if (!Files.exists(data)) {
      fill(data, DAYS);
    }
    ingest();
    strips(data);
    api(data);
    sizes(data.resolve(SqliteFile.NAME));
    table.forEach(System.out::println);
  }

  private void row(String what, String goal, String figure) {
    table.add("| " + what + " | " + goal + " | " + figure + " |");
  }

  private static String format(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }

  private static long fill(Path data, int days) {
    long spent = 0;
    try (Store store = StoreFolder.open(data)) {
      long all = (long) days * InventedReadings.A_DAY;
      for (long from = 0; from < all; from += BATCH) {
        var batch = InventedReadings.samples(from, Math.min(all, from + BATCH));
        long begun = System.nanoTime();
        store.append(batch);
        spent += System.nanoTime() - begun;
      }
    }
    return spent;
  }

  /** The store and plain SQLite in turn, each three times into a new file. */
  private void ingest() throws Exception {
    int rows = INGEST_DAYS * InventedReadings.A_DAY;
    double[] store = new double[3];
    double[] plain = new double[3];
    for (int i = 0; i < 3; i++) {
      Path scratch = Files.createTempDirectory(folder, "ingest");
      Path data = scratch.resolve("store");
      store[i] = rows * 1e9 / fill(data, INGEST_DAYS);
      plain[i] =
          rows
              * 1e9
              / PlainSqlite.write(
                  data.resolve(SqliteFile.NAME), scratch.resolve("plain.db"), rows / BATCH);
      FolderTree.delete(scratch);
    }
    Arrays.sort(store);
    Arrays.sort(plain);
    row(
        "ingest in batches of " + BATCH + " readings of six values",
        "at least 0.5 of plain SQLite",
        format(
            "%.0f readings/s, plain SQLite %.0f: %.2f", store[1], plain[1], store[1] / plain[1]));
  }

  private record Asked(Instant from, Instant to) {
    static Asked last(int days, int shift) {
      Instant to = InventedReadings.time((long) DAYS * InventedReadings.A_DAY - shift);
      return new Asked(to.minus(Duration.ofDays(days)), to);
    }
  }

  private interface Question {
    int ask(int turn) throws Exception;
  }

  /**
   * Medians of warm runs, in milliseconds.
   *
   * @param cpu of the asking thread: what the question costs whatever else the machine does
   */
  private record Cost(double wall, double cpu) {
    @Override
    public String toString() {
      return format("%.1f ms (%.1f ms of CPU)", wall, cpu);
    }
  }

  private static Cost median(int warm, int times, Question question) throws Exception {
    ThreadMXBean threads = ManagementFactory.getThreadMXBean();
    double[] wall = new double[times];
    double[] cpu = new double[times];
    for (int i = -warm; i < times; i++) {
      long spent = threads.getCurrentThreadCpuTime();
      long begun = System.nanoTime();
      int buckets = question.ask(Math.floorMod(i, 60));
      if (i >= 0) {
        wall[i] = (System.nanoTime() - begun) / 1e6;
        cpu[i] = (threads.getCurrentThreadCpuTime() - spent) / 1e6;
      }
      if (buckets < POINTS / 2) {
        throw new IllegalStateException(buckets + " buckets");
      }
    }
    Arrays.sort(wall);
    Arrays.sort(cpu);
    return new Cost(wall[times / 2], cpu[times / 2]);
  }

  private void strips(Path data) throws Exception {
    Cost year;
    try (Store store = StoreFolder.open(data)) {
      History history = store.history();
      year = median(WARM, TIMES, turn -> strip(history, Asked.last(365, turn)));
      Cost month = median(WARM / 4, TIMES / 4, turn -> strip(history, Asked.last(60, turn)));
      Cost day = median(WARM, TIMES, turn -> strip(history, Asked.last(1, turn)));
      row("a year in 1,000 buckets, at the store", "15 ms", year.toString());
      row("60 days in 1,000 buckets, at the store", "", month.toString());
      row("a day in 1,000 buckets, at the store", "5 ms", day.toString());
    }
    try (Connection connection = SqliteFile.connect(data.resolve(SqliteFile.NAME), true, 1024)) {
      Asked asked = Asked.last(365, 0);
      Cost scan =
          median(
              1,
              3,
              turn ->
                  PlainSqlite.scan(
                      connection, asked.from().toEpochMilli(), asked.to().toEpochMilli(), POINTS));
      row(
          "the year against a scan of its raw rows",
          "20 times faster",
          format(
              "%.0f ms scanned: %.0f times; by CPU %.0f times",
              scan.wall(), scan.wall() / year.wall(), scan.cpu() / year.cpu()));
    }
  }

  private static int strip(History history, Asked asked) {
    return history
        .between(
            InventedReadings.CHANNEL.room(), "temperature", asked.from(), asked.to(), POINTS)
        .buckets()
        .size();
  }

  private void api(Path data) throws Exception {
    Properties properties = new Properties();
    properties.setProperty("data", data.toString());
    properties.setProperty("http.port", "0");
    properties.setProperty("zone", "UTC");
    try (RealPace pace = new RealPace();
        Dashboard dashboard =
            Dashboard.start(SettingsFile.of(properties, folder), pace, pace, 1, false)) {
      HttpClient client = HttpClient.newHttpClient();
      URI page = dashboard.web().uri();
      median(WARM, TIMES, turn -> get(client, page, Asked.last(1 + turn, turn)));
      Cost year = median(WARM, TIMES, turn -> get(client, page, Asked.last(365, turn)));
      Cost day = median(WARM, TIMES, turn -> get(client, page, Asked.last(1, turn)));
      row("a year in 1,000 buckets, over HTTP", "25 ms", format("%.1f ms", year.wall()));
      row("a day in 1,000 buckets, over HTTP", "12 ms", format("%.1f ms", day.wall()));
    }
  }

  private static int get(HttpClient client, URI page, Asked asked)
      throws IOException, InterruptedException {
    URI uri =
        page.resolve(
            "/api/history?series=temperature&points="
                + POINTS
                + "&from="
                + asked.from()
                + "&to="
                + asked.to());
    String body =
        client
            .send(HttpRequest.newBuilder(uri).build(), HttpResponse.BodyHandlers.ofString())
            .body();
    return body.length() / 40;
  }

  private void sizes(Path file) throws Exception {
    try (Connection connection = SqliteFile.connect(file, true, 1024)) {
      for (Level level : Level.values()) {
        String name =
            switch (level) {
              case READINGS -> "reading";
              case MINUTES -> "minute";
              case HOURS -> "hour";
            };
        double size = PlainSqlite.bytes(connection, name) / 1e6 * 365 / DAYS;
        row(
            level.words() + ", a year of one device with six series",
            level.megabytesAYear() + " MB, as the settings say",
            format("%.1f MB", size));
      }
    }
    row("the file after " + DAYS + " days", "", format("%.0f MB", Files.size(file) / 1e6));
  }
}
