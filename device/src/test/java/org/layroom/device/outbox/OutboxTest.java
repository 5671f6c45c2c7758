package org.layroom.device.outbox;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The outbox keeps what it took, in order, and says what it lost. */
class OutboxTest {
  private static final OutboxOptions SMALL =
      new OutboxOptions(OutboxOptions.Sync.NEVER, 1024, Long.MAX_VALUE);

  @TempDir Path folder;

  private static List<Long> sequences(List<OutboxSample> samples) {
    return samples.stream().map(OutboxSample::sequence).toList();
  }

  private static List<Long> counting(long from, long to) {
    return LongStream.rangeClosed(from, to).boxed().toList();
  }

  private List<Path> files() throws IOException {
    try (Stream<Path> list = Files.list(folder)) {
      return list.filter(f -> f.toString().endsWith(Segment.SUFFIX)).sorted().toList();
    }
  }

  @Test
  void whatIsKeptComesBackWholeAfterReopening() throws Exception {
    String name;
    List<OutboxSample> before;
    try (Outbox outbox = Outbox.open(folder, SMALL)) {
      name = outbox.name();
      Samples.fill(outbox, 40);
      before = outbox.read(1, 100);
    }
    try (Outbox outbox = Outbox.open(folder, SMALL)) {
      assertEquals(name, outbox.name(), "the name is made once");
      assertEquals(before, outbox.read(1, 100));
      assertEquals(counting(1, 40), sequences(before));
      assertEquals(Samples.number(7).readings(), before.get(6).readings());
      assertEquals(40, outbox.waiting());
      assertEquals(List.of(), outbox.lost());
      assertNotEquals(before.get(0).boot(), outbox.boot(), "another start");
      assertEquals(Samples.START, outbox.bootStart(before.get(0).boot()).orElseThrow());
    }
  }

  @Test
  void readingGoesOnFromAnyNumber() throws Exception {
    try (Outbox outbox = Outbox.open(folder, SMALL)) {
      Samples.fill(outbox, 40);
      assertEquals(counting(13, 22), sequences(outbox.read(13, 10)));
      assertEquals(counting(40, 40), sequences(outbox.read(40, 10)));
      assertEquals(List.of(), outbox.read(41, 10));
    }
  }

  @Test
  void storedSamplesAreForgottenFileByFileAndNumbersGoOn() throws Exception {
    try (Outbox outbox = Outbox.open(folder, SMALL)) {
      Samples.fill(outbox, 40);
      int before = files().size();
      outbox.forget(30);
      assertTrue(files().size() < before, "files below the mark are deleted");
      assertEquals(counting(31, 40), sequences(outbox.read(31, 100)));
      assertEquals(List.of(), outbox.lost());
      outbox.forget(40);
      assertEquals(0, outbox.waiting());
    }
    try (Outbox outbox = Outbox.open(folder, SMALL)) {
      assertEquals(40, outbox.mark());
      assertEquals(41, ((OutboxAppend.Kept) outbox.append(Samples.number(41))).sample().sequence());
    }
  }

  @Test
  void aMarkNeverGoesBackAndANonsenseMarkIsIgnored() throws Exception {
    try (Outbox outbox = Outbox.open(folder, SMALL)) {
      Samples.fill(outbox, 10);
      outbox.forget(5);
      outbox.forget(3);
      assertEquals(5, outbox.mark());
      outbox.forget(Long.MAX_VALUE);
      assertEquals(5, outbox.mark());
    }
  }

  @Test
  void aNumberStoredUpstairsIsNeverGivenAgain() throws Exception {
    try (Outbox outbox = Outbox.open(folder, SMALL)) {
      Samples.fill(outbox, 3);
      outbox.forget(50);
      assertEquals(51, ((OutboxAppend.Kept) outbox.append(Samples.number(51))).sample().sequence());
    }
  }

  @Test
  void beyondItsLimitTheOldestFilesAreDroppedAndReportedAsLost() throws Exception {
    try (Outbox outbox =
        Outbox.open(folder, new OutboxOptions(OutboxOptions.Sync.NEVER, 1024, 20))) {
      Samples.fill(outbox, 60);
      List<SequenceRange> lost = outbox.lost();
      assertEquals(1, lost.size());
      assertEquals(1, lost.get(0).first());
      long firstHeld = outbox.read(1, 1).get(0).sequence();
      assertEquals(firstHeld - 1, lost.get(0).last());
      assertEquals(60 - firstHeld + 1, outbox.waiting());
      assertTrue(outbox.waiting() <= 20 && outbox.waiting() >= 10, "" + outbox.waiting());
    }
  }

  @Test
  void twoDevicesCannotShareAnOutbox() throws Exception {
    try (Outbox outbox = Outbox.open(folder, SMALL)) {
      assertEquals(0, outbox.last());
      IOException refused = assertThrows(IOException.class, () -> Outbox.open(folder, SMALL));
      assertTrue(String.valueOf(refused.getMessage()).contains("in use"));
    }
  }

  @Test
  void aLostNameFileIsFoundAgainInTheSamples() throws Exception {
    String name;
    try (Outbox outbox = Outbox.open(folder, SMALL)) {
      name = outbox.name();
      Samples.fill(outbox, 3);
    }
    Files.writeString(folder.resolve("outbox"), "");
    try (Outbox outbox = Outbox.open(folder, SMALL)) {
      assertEquals(name, outbox.name());
    }
  }

  @Test
  void aFullDiskRefusesASampleAndGivesItNoNumber() throws Exception {
    AtomicBoolean full = new AtomicBoolean();
    Disk disk = path -> new FillingFile(Disk.REAL.open(path), full);
    try (Outbox outbox = Outbox.open(folder, SMALL, disk, MachineStart.of(folder))) {
      Samples.fill(outbox, 5);
      full.set(true);
      OutboxAppend.NotKept refused =
          assertInstanceOf(OutboxAppend.NotKept.class, outbox.append(Samples.number(6)));
      assertTrue(refused.reason().contains("No space left"), refused.reason());
      full.set(false);
      assertEquals(6, ((OutboxAppend.Kept) outbox.append(Samples.number(6))).sample().sequence());
    }
    try (Outbox outbox = Outbox.open(folder, SMALL)) {
      assertEquals(counting(1, 6), sequences(outbox.read(1, 100)), "no half record is left");
      assertEquals(List.of(), outbox.lost());
    }
  }

  /** A disk on which half a record still fits when it is full. */
  private record FillingFile(Disk.AppendFile file, AtomicBoolean full) implements Disk.AppendFile {
    @Override
    public long size() throws IOException {
      return file.size();
    }

    @Override
    public void append(ByteBuffer bytes) throws IOException {
      if (full.get()) {
        file.append(bytes.slice(0, bytes.remaining() / 2));
        throw new IOException("No space left on device");
      }
      file.append(bytes);
    }

    @Override
    public void force() throws IOException {
      file.force();
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
