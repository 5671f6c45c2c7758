package org.layroom.device.outbox;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** How often the disk is waited for, and what a power cut between two such moments costs. */
class OutboxPowerCutTest {
  private static final OutboxOptions STANDARD =
      new OutboxOptions(OutboxOptions.Sync.EACH_MINUTE, 1 << 20, Long.MAX_VALUE);

  @TempDir Path folder;
  private final List<Long> syncedSizes = new ArrayList<>();
  private final Disk counting = path -> new Counting(Disk.REAL.open(path));

  private Outbox open(OutboxOptions options, String machineStart) throws IOException {
    return Outbox.open(folder, options, counting, MachineStart.of(folder, machineStart));
  }

  /** An outbox as it lies there when its program was killed: never closed. */
  private void leaveOpen(int samples, String machineStart) throws IOException {
    Path away = folder.resolveSibling("left-open");
    try (Outbox outbox = open(STANDARD, machineStart)) {
      Samples.fill(outbox, samples);
      copy(folder, away);
    }
    copy(away, folder);
  }

  private static void copy(Path from, Path to) throws IOException {
    Files.createDirectories(to);
    try (var files = Files.list(from)) {
      for (Path file : files.filter(one -> !one.endsWith("lock")).toList()) {
        Files.write(to.resolve(file.getFileName()), Files.readAllBytes(file));
      }
    }
  }

  private void cutTo(long size) throws IOException {
    try (var files = Files.list(folder);
        FileChannel newest =
            FileChannel.open(
                files.filter(one -> one.toString().endsWith(Segment.SUFFIX)).findFirst().get(),
                StandardOpenOption.WRITE)) {
      newest.truncate(size);
    }
  }

  @Test
  void atASampleEveryTenSecondsTheDiskIsWaitedForOnceAMinute() throws Exception {
    try (Outbox outbox = open(STANDARD, "one")) {
      Samples.fill(outbox, 61);
      assertEquals(11, syncedSizes.size(), "the first of this start, then one in six");
    }
  }

  @Test
  void whateverTheClockSaysSoManyNumbersAtMostAreAtStake() throws Exception {
    try (Outbox outbox = open(STANDARD, "one")) {
      for (int i = 0; i < 1 + 10 * SyncRule.MOST_UNSYNCED; i++) {
        outbox.append(Samples.number(7));
      }
      assertEquals(11, syncedSizes.size());
    }
  }

  @Test
  void aKilledDeviceLosesNothingAndLeavesNoNumberOut() throws Exception {
    leaveOpen(10, "one");
    try (Outbox outbox = open(STANDARD, "one")) {
      assertEquals(LongStream.rangeClosed(1, 10).boxed().toList(), numbers(outbox));
      assertEquals(11, next(outbox));
      assertEquals(List.of(), outbox.lost());
    }
  }

  @Test
  void afterAPowerCutNoNumberIsGivenASecondTimeAndTheMissingOnesAreToldAsLost() throws Exception {
    leaveOpen(12, "one");
    cutTo(syncedSizes.get(1));
    try (Outbox outbox = open(STANDARD, "another")) {
      assertEquals(LongStream.rangeClosed(1, 7).boxed().toList(), numbers(outbox));
      long next = next(outbox);
      assertTrue(next > 12, "8 to 12 may have been sent: " + next);
      assertEquals(List.of(new SequenceRange(8, next - 1)), outbox.lost());
    }
  }

  @Test
  void whatIsLeftOutStaysLeftOutWhenNothingIsMeasuredBeforeTheNextStart() throws Exception {
    leaveOpen(12, "one");
    cutTo(syncedSizes.get(1));
    open(STANDARD, "another").close();
    try (Outbox outbox = open(STANDARD, "another")) {
      assertTrue(next(outbox) > 12);
    }
  }

  @Test
  void aClosedOutboxLeavesNoNumberOutWhereverItIsOpenedAgain() throws Exception {
    try (Outbox outbox = open(STANDARD, "one")) {
      Samples.fill(outbox, 10);
    }
    try (Outbox outbox = open(STANDARD, "another")) {
      assertEquals(11, next(outbox));
    }
  }

  @Test
  void whereStartsOfTheMachineCannotBeToldApartItCountsAsAPowerCut() throws Exception {
    leaveOpen(10, "");
    try (Outbox outbox = open(STANDARD, "")) {
      assertTrue(next(outbox) > 10 + SyncRule.MOST_UNSYNCED);
    }
  }

  private static List<Long> numbers(Outbox outbox) throws IOException {
    return outbox.read(1, 1000).stream().map(OutboxSample::sequence).toList();
  }

  private static long next(Outbox outbox) {
    long next = outbox.last() + 1;
    return ((OutboxAppend.Kept) outbox.append(Samples.number(next))).sample().sequence();
  }

  /** Notes how much the disk has whenever it is waited for. */
  private final class Counting implements Disk.AppendFile {
    private final Disk.AppendFile file;

    private Counting(Disk.AppendFile file) {
      this.file = file;
    }

    @Override
    public long size() throws IOException {
      return file.size();
    }

    @Override
    public void append(ByteBuffer bytes) throws IOException {
      file.append(bytes);
    }

    @Override
    public void force() throws IOException {
      file.force();
      syncedSizes.add(file.size());
    }

    @Override
    public void cutTo(long size) throws IOException {
      file.cutTo(size);
    }

    @Override
    public void close() throws IOException {
      file.close();
    }
  }
}
