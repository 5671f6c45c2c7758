package org.layroom.dashboard.store.sqlite;

import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import org.layroom.dashboard.store.AppendResult;
import org.layroom.dashboard.store.Level;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.RejectedReading;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.StoredMark;

/** Writes one batch of entries inside the caller's transaction; idempotent entry by entry. */
final class BatchWriter {
  private record Outbox(Channel channel, String name) {}

  private final Connection connection;
  private final Ids ids;
  private final OutboxRanges ranges;
  private final ReadingRows rows;
  private final Rollups rollups;
  private final LatestValues latest;
  private final PreparedStatement status;

  BatchWriter(Connection connection) throws SQLException {
    this.connection = connection;
    ids = new Ids(connection);
    ranges = new OutboxRanges(connection);
    rows = new ReadingRows(connection);
    rollups = new Rollups(connection, ids);
    latest = new LatestValues(connection);
    status =
        connection.prepareStatement(
            "update device set status_since = case when status = ?1 then status_since else ?2 end,"
                + " status = ?1, status_received = ?2 where id = ?3");
  }

  /** To be called after a rollback. */
  void forget() {
    ids.forget();
    ranges.forget();
    rollups.forget();
  }

  AppendResult append(List<StoreEntry> entries) throws SQLException {
    rollups.start();
    latest.start();
    List<Boolean> fresh = new ArrayList<>(entries.size());
    Map<Outbox, Long> touched = new LinkedHashMap<>();
    for (StoreEntry entry : entries) {
      fresh.add(appendOne(entry, touched));
    }
    rollups.flush();
    latest.flush();
    ranges.flush();
    List<OutboxMark> after = new ArrayList<>();
    for (Map.Entry<Outbox, Long> outbox : touched.entrySet()) {
      after.add(
          new OutboxMark(
              outbox.getKey().channel(),
              new StoredMark(outbox.getKey().name(), ranges.mark(outbox.getValue()))));
    }
    return new AppendResult(fresh, after);
  }

  private boolean appendOne(StoreEntry entry, Map<Outbox, Long> touched) throws SQLException {
    long device = ids.device(entry.channel());
    if (entry instanceof StoreEntry.Sample sample) {
      return append(device, sample, touched);
    }
    if (entry instanceof StoreEntry.Lost lost) {
      long outbox = ids.outbox(device, lost.outbox());
      touched.put(new Outbox(lost.channel(), lost.outbox()), outbox);
      return ranges.add(outbox, lost.first(), lost.last());
    }
    StoreEntry.Status said = (StoreEntry.Status) entry;
    status.setString(1, new String(said.status().write(), StandardCharsets.UTF_8));
    status.setLong(2, said.received().toEpochMilli());
    status.setLong(3, device);
    status.executeUpdate();
    return true;
  }

  private boolean append(long device, StoreEntry.Sample sample, Map<Outbox, Long> touched)
      throws SQLException {
    if (sample.position().isPresent()) {
      return appendPositioned(device, sample.position().get(), sample, touched);
    }
    boolean fresh = reject(device, Optional.empty(), OptionalLong.empty(), sample);
    if (sample.readings().isEmpty()) {
      return fresh;
    }
    ReadingRows.Merged merged = rows.merge(device, sample.times(), sample.readings());
    gather(device, merged.times(), merged.added());
    return fresh || !merged.added().isEmpty();
  }

  private boolean appendPositioned(
      long device, OutboxPosition position, StoreEntry.Sample sample, Map<Outbox, Long> touched)
      throws SQLException {
    long outbox = ids.outbox(device, position.outbox());
    long sequence = position.sequence();
    touched.put(new Outbox(sample.channel(), position.outbox()), outbox);
    boolean fresh = ranges.add(outbox, sequence, sequence);
    if (!fresh && wasDropped(sample.times())) {
      return false;
    }
    fresh |= reject(device, Optional.of(outbox), OptionalLong.of(sequence), sample);
    if (sample.readings().isEmpty()) {
      return fresh;
    }
    List<Reading> added =
        rows.insertPositioned(device, outbox, sequence, sample.times(), sample.readings());
    gather(device, sample.times(), added);
    return fresh || !added.isEmpty();
  }

  /** Whether the row of a number that is done may be gone: then it has counted already. */
  private boolean wasDropped(SampleTimes times) throws SQLException {
    return times.corrected().toEpochMilli() < DroppedUntil.of(connection, Level.READINGS);
  }

  private boolean reject(
      long device, Optional<Long> outbox, OptionalLong sequence, StoreEntry.Sample sample)
      throws SQLException {
    boolean fresh = false;
    for (RejectedReading rejected : sample.rejected()) {
      fresh |= rows.insertRejected(device, outbox, sequence, sample.times(), rejected);
    }
    return fresh;
  }

  private void gather(long device, SampleTimes times, List<Reading> added) throws SQLException {
    for (Reading reading : added) {
      latest.add(device, ids.series(reading.name()), times, reading);
      rollups.add(device, times.corrected(), reading);
    }
  }
}
