package org.layroom.device.chip;

import java.time.Duration;
import java.util.List;
import java.util.function.Supplier;
import org.layroom.device.pace.Pace;

/**
 * Asks a chip again within the same sample when its answer was bad: a spark of a motor on a long
 * wire spoils one answer, seldom the next. A chip that did not answer in the last sample either is
 * asked once, and so is one on a bus that is stuck, so that a dead chip delays nobody. How often
 * and after what pauses is this project's own choice. For one thread.
 */
final class Retries {
  private static final List<Duration> PAUSES =
      List.of(Duration.ofMillis(10), Duration.ofMillis(50), Duration.ofMillis(150));

  /** A failed read that took longer met a bus that is held, not a spark. */
  private static final Duration HELD = Duration.ofMillis(300);

  private final Pace pace;
  private boolean answered = true;

  Retries(Pace pace) {
    this.pace = pace;
  }

  /**
   * The first answer that is a value, or the last reason; waits up to 210 ms beside the reads
   * themselves on the caller's thread.
   */
  <T> ChipRead<T> read(Supplier<ChipRead<T>> once) {
    ChipRead<T> read = again(once);
    answered = read instanceof ChipRead.Value<T>;
    return read;
  }

  private <T> ChipRead<T> again(Supplier<ChipRead<T>> once) {
    Duration began = pace.uptime();
    ChipRead<T> read = once.get();
    if (!answered) {
      return read;
    }
    for (Duration pause : PAUSES) {
      boolean held = pace.uptime().minus(began).compareTo(HELD) > 0;
      if (read instanceof ChipRead.Value<T> || held) {
        return read;
      }
      try {
        pace.pause(pause);
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        return read;
      }
      began = pace.uptime();
      read = once.get();
    }
    return read;
  }
}
