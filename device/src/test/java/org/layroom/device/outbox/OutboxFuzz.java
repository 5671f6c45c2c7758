package org.layroom.device.outbox;

import com.code_intelligence.jazzer.junit.FuzzTest;
import com.code_intelligence.jazzer.mutation.annotation.NotNull;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import java.util.zip.CRC32C;

/**
 * Any bytes on the card: the outbox opens, gives what is whole, and goes on numbering above all
 * that it gives. The first byte says whether the bytes are a file as it stands, or the payload of
 * one record with a right check sum (which no fuzzer would guess).
 */
class OutboxFuzz {
  private static final OutboxOptions OPTIONS =
      new OutboxOptions(OutboxOptions.Sync.NEVER, 4096, Long.MAX_VALUE);

  @FuzzTest
  void files(byte @NotNull [] bytes) throws IOException {
    if (bytes.length < 2) {
      return;
    }
    byte[] rest = Arrays.copyOfRange(bytes, 1, bytes.length);
    Path folder = Files.createTempDirectory("layroom-outbox-fuzz");
    try {
      byte[] file =
          switch (bytes[0] & 3) {
            case 0 -> rest;
            case 1 -> sealed(rest);
            default -> after(SegmentScan.header("0123456789abcdef"), sealed(rest));
          };
      Files.write(folder.resolve(Segment.fileName(1)), file);
      if ((bytes[0] & 4) != 0) {
        Files.write(folder.resolve("stored"), rest);
        Files.write(folder.resolve("outbox"), rest);
      }
      opens(folder);
    } finally {
      delete(folder);
    }
  }

  private static void opens(Path folder) throws IOException {
    long given;
    try (Outbox outbox = Outbox.open(folder, OPTIONS)) {
      List<OutboxSample> held = outbox.read(1, Integer.MAX_VALUE);
      long most = held.stream().mapToLong(OutboxSample::sequence).max().orElse(0);
      if (held.stream().mapToLong(OutboxSample::sequence).distinct().count() != held.size()) {
        throw new AssertionError("a number twice");
      }
      outbox.lost();
      outbox.waiting();
      OutboxAppend appended = outbox.append(Samples.number(1));
      if (!(appended instanceof OutboxAppend.Kept kept)) {
        throw new AssertionError("nothing can be kept any more: " + appended);
      }
      given = kept.sample().sequence();
      if (given <= most) {
        throw new AssertionError("number " + given + " is given again, " + most + " is held");
      }
    }
    try (Outbox outbox = Outbox.open(folder, OPTIONS)) {
      long kept = given;
      if (outbox.read(1, Integer.MAX_VALUE).stream().noneMatch(one -> one.sequence() == kept)) {
        throw new AssertionError("number " + given + " is gone after a restart");
      }
    }
  }

  /** A record around a payload, with its start mark and check sum. */
  private static byte[] sealed(byte[] payload) {
    byte[] used = Arrays.copyOf(payload, Math.min(payload.length, RecordFormat.LARGEST_PAYLOAD));
    CRC32C crc = new CRC32C();
    crc.update(ByteBuffer.allocate(4).putInt(used.length).flip());
    crc.update(used, 0, used.length);
    return ByteBuffer.allocate(RecordFormat.HEADER_BYTES + used.length)
        .putInt(RecordFormat.START)
        .putInt(used.length)
        .putInt((int) crc.getValue())
        .put(used)
        .array();
  }

  private static byte[] after(byte[] header, byte[] record) {
    byte[] file = Arrays.copyOf(header, header.length + record.length);
    System.arraycopy(record, 0, file, header.length, record.length);
    return file;
  }

  private static void delete(Path folder) throws IOException {
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(file);
      }
    }
  }
}
