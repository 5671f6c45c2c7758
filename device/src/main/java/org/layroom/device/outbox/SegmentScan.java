package org.layroom.device.outbox;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * What can still be read of one file: its intact records in order, whatever damage lies between
 * them, and what kind of end it has.
 *
 * @param outbox the outbox's name as the file's first bytes say it
 * @param goodBytes the file up to the end of its last intact record
 * @param tail what follows after that
 */
record SegmentScan(Optional<String> outbox, List<OutboxSample> samples, long goodBytes, Tail tail) {
  /** The file format and its version; the outbox name follows. */
  static final byte[] MAGIC = "LAYBOX01".getBytes(StandardCharsets.US_ASCII);

  static final int NAME_BYTES = 16;
  static final int HEADER_BYTES = 24;

  /** What follows the last intact record. */
  sealed interface Tail {
    /** Nothing. */
    record Clean() implements Tail {}

    /** The beginning of a record that was never finished, and so never sent. */
    record Torn() implements Tail {}

    /** Bytes that may once have been whole records. */
    record Damaged(long bytes) implements Tail {}
  }

  static byte[] header(String outbox) {
    byte[] header = Arrays.copyOf(MAGIC, HEADER_BYTES);
    byte[] name = outbox.getBytes(StandardCharsets.US_ASCII);
    System.arraycopy(name, 0, header, MAGIC.length, NAME_BYTES);
    return header;
  }

  static SegmentScan of(Path file) throws IOException {
    byte[] bytes = Files.readAllBytes(file);
    List<OutboxSample> samples = new ArrayList<>();
    int offset = Math.min(HEADER_BYTES, bytes.length);
    int good = offset;
    long last = 0;
    while (offset < bytes.length) {
      int length = RecordFormat.intactLength(bytes, offset);
      Optional<OutboxSample> sample =
          length < 0 ? Optional.empty() : RecordFormat.decode(bytes, offset, length);
      if (sample.isPresent() && sample.get().sequence() > last) {
        samples.add(sample.get());
        last = sample.get().sequence();
        offset += RecordFormat.HEADER_BYTES + length;
        good = offset;
      } else {
        offset++;
      }
    }
    return new SegmentScan(name(bytes), samples, good, tail(bytes, good));
  }

  private static Optional<String> name(byte[] bytes) {
    if (bytes.length < HEADER_BYTES
        || !Arrays.equals(bytes, 0, MAGIC.length, MAGIC, 0, MAGIC.length)) {
      return Optional.empty();
    }
    String name = new String(bytes, MAGIC.length, NAME_BYTES, StandardCharsets.US_ASCII);
    return OutboxName.valid(name) ? Optional.of(name) : Optional.empty();
  }

  private static Tail tail(byte[] bytes, int good) {
    int rest = bytes.length - good;
    if (rest == 0) {
      return bytes.length < HEADER_BYTES ? new Tail.Torn() : new Tail.Clean();
    }
    boolean zeros = true;
    for (int i = good; i < bytes.length; i++) {
      zeros &= bytes[i] == 0;
    }
    if (zeros || rest < RecordFormat.HEADER_BYTES) {
      return new Tail.Torn();
    }
    int claimed = RecordFormat.claimedLength(bytes, good);
    boolean unfinished = claimed >= 0 && good + RecordFormat.HEADER_BYTES + claimed > bytes.length;
    return unfinished ? new Tail.Torn() : new Tail.Damaged(rest);
  }
}
