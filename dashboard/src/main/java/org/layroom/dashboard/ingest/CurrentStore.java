package org.layroom.dashboard.ingest;

import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.layroom.dashboard.store.AppendResult;
import org.layroom.dashboard.store.Archive;
import org.layroom.dashboard.store.ArchivedSample;
import org.layroom.dashboard.store.DaySummary;
import org.layroom.dashboard.store.DeviceRecord;
import org.layroom.dashboard.store.EventLog;
import org.layroom.dashboard.store.History;
import org.layroom.dashboard.store.LatestReading;
import org.layroom.dashboard.store.Level;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.RejectedRecord;
import org.layroom.dashboard.store.RepairReport;
import org.layroom.dashboard.store.SeriesHistory;
import org.layroom.dashboard.store.Sources;
import org.layroom.dashboard.store.Spared;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.StoredRange;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.RoomName;

/**
 * The store as everybody but ingest sees it: what was accepted is in every answer. A question about
 * a room and a time of which something waits commits it first; other questions cost no commit.
 * Marks and ranges are those that are committed. While the store takes nothing, answers come from
 * what is committed.
 */
public final class CurrentStore implements Store {
  private final Store committed;
  private final Ingest ingest;
  private final History history = new CurrentHistory();
  private final Sources sources = new CurrentSources();
  private final Archive archive = new CurrentArchive();

  /** The store that ingest writes. */
  public CurrentStore(Store committed, Ingest ingest) {
    this.committed = committed;
    this.ingest = ingest;
  }

  private void upToDate(RoomName room) {
    ingest.commitFor(room, Instant.MIN, Instant.MAX);
  }

  @Override
  public AppendResult append(List<StoreEntry> entries) {
    return committed.append(entries);
  }

  @Override
  public List<OutboxMark> marks() {
    return committed.marks();
  }

  @Override
  public List<StoredRange> ranges() {
    return committed.ranges();
  }

  @Override
  public History history() {
    return history;
  }

  @Override
  public Sources sources() {
    return sources;
  }

  @Override
  public Archive archive() {
    return archive;
  }

  @Override
  public EventLog events() {
    return committed.events();
  }

  @Override
  public Optional<RepairReport> mended() {
    return committed.mended();
  }

  @Override
  public void copyTo(Path copy) {
    ingest.commitNow();
    committed.copyTo(copy);
  }

  @Override
  public void close() {
    committed.close();
  }

  private final class CurrentHistory implements History {
    @Override
    public SeriesHistory between(
        RoomName room, String series, Instant from, Instant to, int points) {
      ingest.commitFor(room, from, to);
      return committed.history().between(room, series, from, to, points);
    }

    @Override
    public long countReadings(RoomName room, Instant from, Instant to) {
      ingest.commitFor(room, from, to);
      return committed.history().countReadings(room, from, to);
    }

    @Override
    public List<DaySummary> daily(RoomName room, String series, ZoneId zone) {
      upToDate(room);
      return committed.history().daily(room, series, zone);
    }

    @Override
    public Optional<DeviceName> values(
        RoomName room, String series, Instant from, Instant to, ValueTaker taker) {
      ingest.commitFor(room, from, to);
      return committed.history().values(room, series, from, to, taker);
    }
  }

  private final class CurrentSources implements Sources {
    @Override
    public Optional<DeviceName> source(RoomName room, String series) {
      upToDate(room);
      return committed.sources().source(room, series);
    }

    @Override
    public void setSource(RoomName room, String series, DeviceName device) {
      committed.sources().setSource(room, series, device);
    }

    @Override
    public Map<String, DeviceName> chosen(RoomName room) {
      return committed.sources().chosen(room);
    }

    @Override
    public List<RoomName> rooms() {
      ingest.commitNow();
      return committed.sources().rooms();
    }

    @Override
    public List<DeviceRecord> devices(RoomName room) {
      upToDate(room);
      return committed.sources().devices(room);
    }

    @Override
    public List<LatestReading> latest(RoomName room) {
      upToDate(room);
      return committed.sources().latest(room);
    }
  }

  private final class CurrentArchive implements Archive {
    @Override
    public void export(RoomName room, Instant from, Instant to, Consumer<ArchivedSample> taker) {
      ingest.commitFor(room, from, to);
      committed.archive().export(room, from, to, taker);
    }

    @Override
    public void readings(Channel channel, Instant from, Instant to, ReadingsTaker taker) {
      ingest.commitFor(channel.room(), from, to);
      committed.archive().readings(channel, from, to, taker);
    }

    @Override
    public List<RejectedRecord> rejected(RoomName room) {
      upToDate(room);
      return committed.archive().rejected(room);
    }

    @Override
    public List<Long> sequences(Channel channel, String outbox) {
      upToDate(channel.room());
      return committed.archive().sequences(channel, outbox);
    }

    @Override
    public int dropBefore(Level level, Instant instant, List<Spared> spared) {
      return committed.archive().dropBefore(level, instant, spared);
    }
  }
}
