package org.layroom.device.outbox;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** What is known, without reading it again, of one file of samples. */
final class Segment {
  static final String SUFFIX = ".samples";

  private final Path file;
  private final List<SequenceRange> held = new ArrayList<>();
  private long count;

  Segment(Path file) {
    this.file = file;
  }

  /** File names sort as their first numbers do. */
  static String fileName(long first) {
    return String.format(Locale.ROOT, "%019d%s", first, SUFFIX);
  }

  Path file() {
    return file;
  }

  void holds(long sequence) {
    count++;
    int end = held.size() - 1;
    if (end >= 0 && held.get(end).touches(sequence)) {
      held.set(end, new SequenceRange(held.get(end).first(), sequence));
    } else {
      held.add(new SequenceRange(sequence, sequence));
    }
  }

  List<SequenceRange> held() {
    return held;
  }

  long count() {
    return count;
  }

  /** The highest number in the file; 0 when it holds none. */
  long last() {
    return held.isEmpty() ? 0 : held.get(held.size() - 1).last();
  }
}
