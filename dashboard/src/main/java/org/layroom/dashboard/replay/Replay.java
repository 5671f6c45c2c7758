package org.layroom.dashboard.replay;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.concurrent.atomic.AtomicReference;
import org.layroom.dashboard.recording.BadRow;
import org.layroom.dashboard.recording.Recording;
import org.layroom.dashboard.recording.Row;
import org.layroom.dashboard.recording.UnusableRecording;
import org.layroom.dashboard.replay.ReplayResult.DayLine;
import org.layroom.dashboard.replay.ReplayResult.Figures;
import org.layroom.dashboard.store.DaySummary;
import org.layroom.dashboard.store.History;
import org.layroom.device.demo.DemoConnection;
import org.layroom.device.demo.RecordedDevice;
import org.layroom.device.demo.RecordedRow;
import org.layroom.device.pace.Pace;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;

/** One recording on its way through the real path, with a clock set to the recording. */
public final class Replay {
  /** Who the replayed readings come from. */
  public static final Channel CHANNEL = Channel.of("recording", "replay");

  private static final Set<String> REQUIRED = Set.of(Recording.TEMPERATURE, Recording.HUMIDITY);
  private static final Set<String> OPTIONAL =
      Set.of(Recording.MOLD_TEMPERATURE, Recording.RESIN_TEMPERATURE, Recording.VOC_RAW);

  private static final Duration STORE_PATIENCE = Duration.ofMinutes(2);
  private static final Duration ASK_EVERY = Duration.ofMillis(250);

  private record Measured(String column, String series, String unit) {}

  private static final List<Measured> COLUMNS =
      List.of(
          new Measured(Recording.TEMPERATURE, Series.TEMPERATURE, "°C"),
          new Measured(Recording.HUMIDITY, Series.HUMIDITY, "%"),
          new Measured(Recording.MOLD_TEMPERATURE, Series.MOLD_TEMPERATURE, "°C"),
          new Measured(Recording.RESIN_TEMPERATURE, Series.RESIN_TEMPERATURE, "°C"),
          new Measured(Recording.VOC_RAW, Series.VOC_RAW, ""));

  /** The dashboard that a replay is sent to. */
  public interface Target {
    URI brokerUri();

    /** Gives a device its password at that broker. */
    String pair(Channel channel);

    History history();

    /** Asks for a commit of what came in, instead of the minute that a quiet room waits for it. */
    void commitSoon();
  }

  private final Path file;
  private final ZoneId zone;
  private final SteppedPace pace;
  private final List<String> ignored;

  private Replay(Path file, ZoneId zone, SteppedPace pace, List<String> ignored) {
    this.file = file;
    this.zone = zone;
    this.pace = pace;
    this.ignored = List.copyOf(ignored);
  }

  /**
   * Looks a recording over, so that its clock can be set.
   *
   * @param zone of times without an offset, and of days
   * @throws UnusableRecording when it cannot be read, lacks a column or has no usable row
   */
  public static Replay of(Path file, ZoneId zone) throws UnusableRecording {
    List<Instant> times = new ArrayList<>();
    try (Recording recording = Recording.openWithGaps(file, zone, REQUIRED, OPTIONAL)) {
      List<BadRow> bad = new ArrayList<>();
      recording.forEach(
          row -> {
            if (times.isEmpty()) {
              times.add(row.time());
            }
          },
          bad::add);
      if (times.isEmpty()) {
        throw new UnusableRecording(
            file
                + " has no usable row"
                + bad.stream().findFirst().map(row -> "; the first is bad at " + row).orElse(""));
      }
      SteppedPace pace = new SteppedPace(times.get(0).minusSeconds(1));
      return new Replay(file, zone, pace, recording.ignoredColumns());
    }
  }

  /** Columns that are not looked at. */
  public List<String> ignoredColumns() {
    return ignored;
  }

  /** The recording's time as the dashboard should see it. */
  public Pace dashboardPace() {
    return new UnsureClock(pace);
  }

  /**
   * Sends every row.
   *
   * @param outbox folder for the device's outbox
   * @param speed times real time; empty for as fast as it goes
   * @param real real time, to wait between rows
   */
  public ReplayResult run(Target target, Path outbox, OptionalDouble speed, Pace real)
      throws IOException, InterruptedException, UnusableRecording {
    Map<String, DayStatistics> fromFile = new LinkedHashMap<>();
    COLUMNS.forEach(column -> fromFile.put(column.series(), new DayStatistics(zone)));
    List<BadRow> bad = new ArrayList<>();
    DemoConnection connection =
        new DemoConnection(target.brokerUri(), CHANNEL, Optional.of(target.pair(CHANNEL)), outbox);
    try (RecordedDevice device = RecordedDevice.open(pace, connection);
        Recording recording = Recording.openWithGaps(file, zone, REQUIRED, OPTIONAL)) {
      AtomicReference<Optional<Instant>> previous = new AtomicReference<>(Optional.empty());
      recording.forEach(
          row -> {
            RecordedRow shown = shown(row);
            previous
                .getAndSet(Optional.of(row.time()))
                .ifPresent(before -> waitBetween(before, row.time(), speed, real));
            play(device, shown);
            count(row, fromFile);
          },
          bad::add);
      boolean all = awaitStored(device, target);
      long stored =
          target
              .history()
              .countReadings(CHANNEL.room(), Instant.EPOCH, Instant.ofEpochMilli(Long.MAX_VALUE));
      return new ReplayResult(
          device.measured(), bad, stored, all, days(fromFile, target.history()));
    }
  }

  private static boolean awaitStored(RecordedDevice device, Target target)
      throws InterruptedException {
    boolean all = false;
    for (long left = STORE_PATIENCE.dividedBy(ASK_EVERY); !all && left > 0; left--) {
      target.commitSoon();
      all = device.awaitStored(ASK_EVERY);
    }
    return all;
  }

  private static RecordedRow shown(Row row) {
    return new RecordedRow(
        row.time(),
        row.value(Recording.TEMPERATURE),
        row.value(Recording.HUMIDITY),
        row.value(Recording.MOLD_TEMPERATURE),
        row.value(Recording.RESIN_TEMPERATURE),
        row.value(Recording.VOC_RAW));
  }

  private static void waitBetween(Instant before, Instant now, OptionalDouble speed, Pace real) {
    if (speed.isEmpty()) {
      return;
    }
    long millis = Duration.between(before, now).toMillis();
    try {
      real.pause(Duration.ofMillis(Math.round(millis / speed.getAsDouble())));
    } catch (InterruptedException e) {
      throw new ReplayInterrupted(e);
    }
  }

  private static void play(RecordedDevice device, RecordedRow row) {
    try {
      device.play(row);
    } catch (InterruptedException e) {
      throw new ReplayInterrupted(e);
    }
  }

  private static void count(Row row, Map<String, DayStatistics> fromFile) {
    boolean air = REQUIRED.stream().allMatch(column -> row.value(column).isPresent());
    for (Measured column : COLUMNS) {
      if (column.series().equals(Series.VOC_RAW) && !air) {
        continue; // kept as doubtful: a raw signal is corrected by the air beside it
      }
      row.value(column.column())
          .ifPresent(
              value -> {
                DayStatistics statistics = fromFile.get(column.series());
                if (statistics != null) {
                  statistics.add(row.time(), value);
                }
              });
    }
  }

  private List<DayLine> days(Map<String, DayStatistics> fromFile, History history) {
    RoomName room = CHANNEL.room();
    List<DayLine> lines = new ArrayList<>();
    for (Measured column : COLUMNS) {
      Map<LocalDate, DaySummary> stored = new HashMap<>();
      history.daily(room, column.series(), zone).forEach(day -> stored.put(day.day(), day));
      DayStatistics statistics = fromFile.getOrDefault(column.series(), new DayStatistics(zone));
      statistics
          .days()
          .forEach(
              (day, figures) ->
                  lines.add(
                      new DayLine(
                          day,
                          column.series(),
                          column.unit(),
                          new Figures(figures.n(), figures.min(), figures.mean(), figures.max()),
                          figures(Optional.ofNullable(stored.get(day))))));
    }
    return lines;
  }

  private static Figures figures(Optional<DaySummary> day) {
    return day.map(d -> new Figures(d.n(), d.min(), d.mean(), d.max()))
        .orElse(new Figures(0, Double.NaN, Double.NaN, Double.NaN));
  }

  /** The replay was told to stop while it waited. */
  static final class ReplayInterrupted extends RuntimeException {
    ReplayInterrupted(InterruptedException cause) {
      super(cause);
    }
  }
}
