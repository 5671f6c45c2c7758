package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.forecast.LearnedRooms;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.store.Level;
import org.layroom.dashboard.store.Retention;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.dashboard.store.sqlite.SqliteFile;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.dashboard.warning.AirWarnings;
import org.layroom.device.demo.DemoConnection;
import org.layroom.device.demo.DemoDevice;
import org.layroom.device.demo.DemoStory;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/**
 * Nothing but time: a month of an invented shop in minutes, device, broker, store, warnings and
 * forecast in this process, every ten seconds a sample; and years of a store.
 */
@ExtendWith(Campaign.class)
@Timeout(2400)
class MonthFaultsIT {
  private static final Instant BEGUN = Instant.parse("2026-03-02T06:00:00Z");
  private static final Duration PATIENCE = Duration.ofMinutes(2);
  private static final Duration STEP = Duration.ofMinutes(10);
  private static final Duration RAW_KEPT = Retention.USUAL.readings().orElseThrow();
  private static final double MB = 1e6;

  private static final int A_MINUTE = 6;
  private static final int WEEK_HOURS = 7 * 24;

  /** One segment is kept for going on, and the mark is written every 360 samples. */
  private static final double MOST_OUTBOX_MB = 0.6;

  private static final double MOST_STORE_MB_A_DAY = 4;
  private static final double MOST_HEAP_GROWTH_MB = 12;

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  private final RealTime transport = new RealTime();

  @AfterEach
  void stopTime() {
    transport.close();
  }

  /** What there is at one moment, in MB. */
  private record Figures(double heap, double store, double outbox, double written) {}

  private Figures figures() throws IOException {
    return new Figures(
        heapAfterCollection(),
        size(folder.resolve("dashboard"), "layroom.db"),
        size(folder.resolve("outbox"), ""),
        written());
  }

  private static double heapAfterCollection() {
    double least = Double.MAX_VALUE;
    for (int i = 0; i < 3; i++) {
      System.gc();
      Runtime now = Runtime.getRuntime();
      least = Math.min(least, (now.totalMemory() - now.freeMemory()) / MB);
    }
    return least;
  }

  private static double size(Path folder, String beginning) throws IOException {
    try (Stream<Path> files = Files.walk(folder)) {
      return files
              .filter(file -> file.getFileName().toString().startsWith(beginning))
              .mapToLong(MonthFaultsIT::size)
              .sum()
          / MB;
    }
  }

  private static long size(Path file) {
    try {
      return Files.isRegularFile(file) ? Files.size(file) : 0;
    } catch (IOException e) {
      return 0;
    }
  }

  /** What the kernel has sent to the disk for this process. */
  private static double written() throws IOException {
    Path file = Path.of("/proc/self/io");
    return Files.isReadable(file)
        ? Files.readAllLines(file).stream()
                .filter(line -> line.startsWith("write_bytes"))
                .mapToLong(line -> Long.parseLong(line.replaceAll("\\D", "")))
                .sum()
            / MB
        : 0;
  }

  @Test
  @Fault(
      value = "a month in the life of a shop, a sample every ten seconds",
      promised =
          "memory flat, outbox bounded, the broker writes nothing, the store grows by a known rate")
  void aMonth(Witness witness) throws Exception {
    int hours = witness.times(6, 30 * 24);
    SteppedPace pace = new SteppedPace(BEGUN);
    try (DashboardCore core =
            DashboardCore.start(
                CoreSettings.embedded(folder.resolve("dashboard"), 0), pace, transport);
        AirWarnings warnings = AirWarnings.start(core, pace, 1);
        LearnedRooms learned =
            LearnedRooms.start(core, transport, Optional.empty(), ZoneOffset.UTC);
        DemoDevice device =
            DemoDevice.start(
                pace,
                new DemoConnection(
                    core.brokerUri(),
                    Ledger.CHANNEL,
                    Optional.of(core.logins().pair(Ledger.CHANNEL)),
                    folder.resolve("outbox")),
                new DemoStory(Duration.ofSeconds(10), Duration.ZERO, ZoneOffset.UTC, 3))) {
      List<Figures> weekly = new ArrayList<>();
      live(core, pace, device, Duration.ofHours(6));
      weekly.add(figures());
      for (int hour = 1; hour <= hours; hour++) {
        live(core, pace, device, Duration.ofHours(1));
        if (hour % WEEK_HOURS == 0 || hour == hours) {
          weekly.add(figures());
        }
      }
      assertEquals(device.measured(), core.counts().samples(), "every sample once");
      assertTrue(warnings.air(Ledger.CHANNEL.room()).at().isAfter(BEGUN));
      told(witness, weekly, hours / 24.0);
      assertFalse(
          Files.exists(folder.resolve("dashboard").resolve("broker")), "the broker writes nothing");
    } finally {
      pace.close();
    }
  }

  private static void live(DashboardCore core, SteppedPace pace, DemoDevice device, Duration time) {
    Instant end = pace.now().plus(time);
    while (pace.now().isBefore(end)) {
      pace.advanceBy(STEP);
      Until.stored(PATIENCE, "all is stored", core, () -> device.stored() == device.measured());
    }
  }

  private static void told(Witness witness, List<Figures> weekly, double days) {
    Figures first = weekly.get(0);
    Figures last = weekly.get(weekly.size() - 1);
    witness.saw("%.2f days", days);
    witness.saw(
        "heap after collection %s MB", each(weekly, figures -> "%.1f".formatted(figures.heap())));
    double store = (last.store() - first.store()) / days;
    witness.saw(
        "store grows %.2f MB a day, so 400 days of raw readings take %.0f MB", store, 400 * store);
    witness.saw("outbox %s MB", each(weekly, figures -> "%.2f".formatted(figures.outbox())));
    double written = (last.written() - first.written()) / days;
    witness.saw("%.0f MB a day written, device and dashboard together", written);
    assertTrue(last.heap() - first.heap() < MOST_HEAP_GROWTH_MB, "heap grows: " + weekly);
    assertTrue(weekly.stream().allMatch(one -> one.outbox() < MOST_OUTBOX_MB), "outbox: " + weekly);
    assertTrue(store < MOST_STORE_MB_A_DAY, "store: " + weekly);
  }

  private static String each(List<Figures> weekly, Function<Figures, String> one) {
    return String.join(", ", weekly.stream().map(one).toList());
  }

  @Test
  @Fault(
      value = "a store that is three times as old as raw readings are kept",
      promised =
          "the file stops growing but for its roll-ups; dropping a day costs no more than three times"
              + " as much as taking one in")
  void years(Witness witness) throws SQLException {
    int daily = witness.times(48, 1440);
    int days = (int) (3 * RAW_KEPT.toDays());
    double afterKept = 0;
    long appending = 0;
    long dropping = 0;
    long longest = 0;
    long sequence = 0;
    Path data = folder.resolve("years");
    try (Store store = StoreFolder.open(data)) {
      for (int day = 1; day <= days; day++) {
        Instant morning = BEGUN.plus(Duration.ofDays(day));
        List<StoreEntry> entries = day(morning, sequence, daily);
        sequence += daily;
        long begun = System.nanoTime();
        store.append(entries);
        long taken = System.nanoTime();
        store.archive().dropBefore(Level.READINGS, morning.minus(RAW_KEPT), List.of());
        long dropped = System.nanoTime();
        if (day > RAW_KEPT.toDays()) {
          appending += taken - begun;
          dropping += dropped - taken;
        }
        longest = Math.max(longest, dropped - taken);
        if (day == RAW_KEPT.toDays() + 10) {
          afterKept = withoutRollups(data.resolve("layroom.db"));
        }
      }
      assertEquals(
          daily * (RAW_KEPT.toDays() + 1),
          store.archive().sequences(Ledger.CHANNEL, Ledger.OUTBOX).size());
    }
    double atLast = withoutRollups(data.resolve("layroom.db"));
    witness.saw("%d days of %d samples", days, daily);
    witness.saw("%.1f MB after 410 days, %.1f MB at last, without roll-ups", afterKept, atLast);
    witness.saw("the longest drop took %d ms", longest / 1_000_000);
    double cost = (double) dropping / appending;
    witness.saw("dropping costs %.2f times as much as taking in", cost);
    assertTrue(cost < 3, "dropping costs " + cost + " times as much as taking in");
    assertTrue(atLast < 1.5 * afterKept, "the file grows from " + afterKept + " to " + atLast);
  }

  /** MB of a store, without the pages of its minutes and hours. */
  private static double withoutRollups(Path store) throws SQLException {
    try (Connection connection = SqliteFile.look(store);
        Statement statement = connection.createStatement();
        ResultSet row =
            statement.executeQuery(
                "select (select page_count * page_size from pragma_page_count, pragma_page_size)"
                    + " - (select sum(pgsize) from dbstat where name in ('minute', 'hour'))")) {
      return row.getLong(1) / MB;
    }
  }

  private static List<StoreEntry> day(Instant morning, long before, int daily) {
    List<StoreEntry> entries = new ArrayList<>();
    for (int i = 0; i < daily; i++) {
      Duration minute = Duration.ofDays(1).dividedBy(daily / A_MINUTE).multipliedBy(i / A_MINUTE);
      Instant time = morning.plus(minute).plusSeconds(10L * (i % A_MINUTE));
      entries.add(
          new StoreEntry.Sample(
              Ledger.CHANNEL,
              Optional.of(new OutboxPosition(Ledger.OUTBOX, before + i + 1)),
              SampleTimes.asSaid(time, time),
              List.of(
                  Reading.of(Series.TEMPERATURE, Series.CELSIUS, 18 + i % 10 / 10.0),
                  Reading.of(Series.HUMIDITY, Series.RELATIVE_HUMIDITY, 60)),
              List.of()));
    }
    return entries;
  }
}
