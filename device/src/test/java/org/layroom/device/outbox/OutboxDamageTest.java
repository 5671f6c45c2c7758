package org.layroom.device.outbox;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.stream.LongStream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Power cuts and worn cards: torn ends, flipped bits, files of zeros. */
class OutboxDamageTest {
  private static final OutboxOptions ONE_FILE =
      new OutboxOptions(OutboxOptions.Sync.NEVER, 1 << 20, Long.MAX_VALUE);
  private static final int COUNT = 8;

  @TempDir Path folder;

  private static Path onlyFile(Path folder) {
    return folder.resolve(Segment.fileName(1));
  }

  private static List<Long> sequences(Outbox outbox) throws IOException {
    return outbox.read(1, 1000).stream().map(OutboxSample::sequence).toList();
  }

  private static byte[] filled(Path folder) throws IOException {
    try (Outbox outbox = Outbox.open(folder, ONE_FILE)) {
      Samples.fill(outbox, COUNT);
    }
    return Files.readAllBytes(onlyFile(folder));
  }

  private static long next(Outbox outbox) {
    return ((OutboxAppend.Kept) outbox.append(Samples.number(outbox.last() + 1)))
        .sample()
        .sequence();
  }

  @Test
  void aRecordTornAtAnyByteIsCutOffAndItsNumberGivenAgain() throws Exception {
    byte[] whole = filled(folder);
    int lastRecord = whole.length - RecordFormat.encode(stored()).remaining();
    for (int length = lastRecord; length < whole.length; length++) {
      Files.write(onlyFile(folder), Arrays.copyOf(whole, length));
      try (Outbox outbox = Outbox.open(folder, ONE_FILE)) {
        assertEquals(LongStream.range(1, COUNT).boxed().toList(), sequences(outbox), "" + length);
        assertEquals(COUNT, next(outbox), "" + length);
        assertEquals(List.of(), outbox.lost());
        assertEquals(COUNT, sequences(outbox).size(), "the new record is readable at " + length);
      }
    }
  }

  /** The same size as the last record in the file. */
  private static OutboxSample stored() {
    var sampled = Samples.number(COUNT);
    return new OutboxSample(
        COUNT,
        OutboxName.random(),
        sampled.uptime(),
        sampled.wall(),
        sampled.wallClockSet(),
        sampled.readings());
  }

  @Test
  void aFileTornAtAnyByteKeepsEveryWholeRecord() throws Exception {
    byte[] whole = filled(folder);
    for (int length = 0; length < whole.length; length += 7) {
      Files.write(onlyFile(folder), Arrays.copyOf(whole, length));
      try (Outbox outbox = Outbox.open(folder, ONE_FILE)) {
        long held = sequences(outbox).size();
        assertEquals(LongStream.rangeClosed(1, held).boxed().toList(), sequences(outbox));
        assertEquals(held + 1, next(outbox));
        assertEquals(List.of(), outbox.lost());
      }
    }
  }

  @Test
  void anEndOfZerosIsATornEnd() throws Exception {
    byte[] whole = filled(folder);
    Files.write(onlyFile(folder), Arrays.copyOf(whole, whole.length + 4096));
    try (Outbox outbox = Outbox.open(folder, ONE_FILE)) {
      assertEquals(COUNT + 1, next(outbox));
      assertEquals(COUNT + 1, sequences(outbox).size());
    }
  }

  @Property(tries = 200)
  void oneFlippedBitCostsAtMostOneSampleAndIsReported(
      @ForAll @IntRange(min = 24, max = 100_000) int where, @ForAll @IntRange(max = 7) int bit)
      throws Exception {
    Path own = Files.createTempDirectory("layroom-outbox");
    try {
      byte[] bytes = filled(own);
      int at = SegmentScan.HEADER_BYTES + where % (bytes.length - SegmentScan.HEADER_BYTES);
      bytes[at] ^= (byte) (1 << bit);
      Files.write(onlyFile(own), bytes);
      try (Outbox outbox = Outbox.open(own, ONE_FILE)) {
        List<Long> held = sequences(outbox);
        assertEquals(COUNT - 1, held.size());
        long lost = 36 - held.stream().mapToLong(Long::longValue).sum();
        long given = next(outbox);
        assertTrue(lost == COUNT || given == COUNT + 1, "numbers go on behind the damage");
        if (given > COUNT) {
          assertTrue(
              outbox.lost().stream().anyMatch(r -> r.first() <= lost && lost <= r.last()),
              "sample " + lost + " is reported as lost");
        }
      }
    } finally {
      delete(own);
    }
  }

  /** Whatever is done to the bytes: it opens, gives no number twice, and shows no wrong sample. */
  @Property(tries = 200)
  void anyDamageLeavesAnOutboxThatWorks(@ForAll long seed) throws Exception {
    Path own = Files.createTempDirectory("layroom-outbox");
    try {
      byte[] bytes = filled(own);
      Random random = new Random(seed);
      for (int hits = random.nextInt(20); hits >= 0; hits--) {
        bytes[random.nextInt(bytes.length)] = (byte) random.nextInt();
      }
      Files.write(onlyFile(own), Arrays.copyOf(bytes, 1 + random.nextInt(bytes.length)));
      Set<Long> seen = new HashSet<>();
      for (int opening = 0; opening < 2; opening++) {
        try (Outbox outbox = Outbox.open(own, ONE_FILE)) {
          for (OutboxSample sample : outbox.read(1, 1000)) {
            seen.add(sample.sequence());
            assertEquals(Samples.number(sample.sequence()).readings(), sample.readings());
          }
          assertTrue(seen.add(next(outbox)), "no number is given twice");
        }
      }
    } finally {
      delete(own);
    }
  }

  @Test
  void aMarkAndANameOfRandomBytesDoNotStopTheDevice() throws Exception {
    filled(folder);
    byte[] noText = {(byte) 0xE2, (byte) 0x28, (byte) 0xFF, 0};
    Files.write(folder.resolve("stored"), noText);
    Files.write(folder.resolve("outbox"), noText);
    try (Outbox outbox = Outbox.open(folder, ONE_FILE)) {
      assertEquals(COUNT, sequences(outbox).size());
      assertEquals(COUNT + 1, next(outbox));
    }
  }

  private static void delete(Path folder) throws IOException {
    try (var files = Files.list(folder)) {
      for (Path file : files.toList()) {
        Files.delete(file);
      }
    }
    Files.delete(folder);
  }
}
