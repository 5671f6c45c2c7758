package org.layroom.dashboard.fault;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;

/** What one test of the campaign is given, and where it says what it has seen. */
final class Witness {
  private final boolean full;
  private final long seed;
  private final List<String> seen = new ArrayList<>();

  Witness(boolean full, long seed) {
    this.full = full;
    this.seed = seed;
  }

  /** The moments and damages of this run; its seed is in the log. */
  Random random() {
    return new Random(seed);
  }

  /** So many times: in the short form that goes with the other tests, or in the full one. */
  int times(int inShort, int inFull) {
    return full ? inFull : inShort;
  }

  void saw(String words, Object... figures) {
    seen.add(String.format(Locale.ROOT, words, figures));
  }

  String words() {
    return String.join("; ", seen);
  }
}
