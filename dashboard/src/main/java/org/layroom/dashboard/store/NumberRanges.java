package org.layroom.dashboard.store;

import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.LongConsumer;

/** Whole numbers as ranges without a gap, both ends included; ranges that touch become one. */
public final class NumberRanges {
  private final TreeMap<Long, Long> lastByFirst = new TreeMap<>();

  /**
   * Adds the numbers from the first to the last.
   *
   * @param changed told the first number of each range that is new, grew or is gone
   * @return false when all of them were there
   */
  public boolean add(long first, long last, LongConsumer changed) {
    long from = first;
    long to = last;
    Map.Entry<Long, Long> left = lastByFirst.floorEntry(first);
    if (left != null && left.getValue() >= first - 1) {
      if (left.getValue() >= last) {
        return false;
      }
      from = left.getKey();
    }
    Map.Entry<Long, Long> right = lastByFirst.higherEntry(from);
    while (right != null && right.getKey() <= to + 1) {
      to = Math.max(to, right.getValue());
      lastByFirst.remove(right.getKey());
      changed.accept(right.getKey());
      right = lastByFirst.higherEntry(from);
    }
    lastByFirst.put(from, to);
    changed.accept(from);
    return true;
  }

  /** The last number of the range that begins here. */
  public Optional<Long> last(long first) {
    return Optional.ofNullable(lastByFirst.get(first));
  }
}
