package org.layroom.device.publishing;

import java.time.Duration;

/**
 * How long to wait for the stored mark before sending again, and when that has no sense any more.
 * Where the broker takes everything, the dashboard is there and yet nothing is ever stored, what is
 * sent is refused somewhere on the way: then only the first waiting sample is tried, ever more
 * rarely, and the outbox keeps the rest.
 */
final class ResendPolicy {
  /**
   * Without a moving mark for this long, everything above it is sent again. The dashboard says a
   * mark about once a minute.
   */
  private static final Duration USUAL = Duration.ofSeconds(150);

  /** Patience doubles up to so many times the first while no answer at all. */
  private static final int LONGEST = 2;

  /** And up to so many times while what is sent is refused: 10 min. */
  private static final int LONGEST_REFUSED = 4;

  /** So many times everything is sent in vain before it is taken for refused. */
  private static final int IN_VAIN = 3;

  private final Duration first;
  private Duration length;
  private Duration since = Duration.ZERO;
  private int inVain;
  private boolean dashboardThere;

  ResendPolicy() {
    this(USUAL);
  }

  /** A first wait of another length, for tests. */
  ResendPolicy(Duration first) {
    this.first = first;
    length = first;
  }

  /** How long it waits at first, and whenever all goes well. */
  Duration first() {
    return first;
  }

  /** The mark has moved, or there is nothing to wait for. */
  void progressed(Duration now) {
    since = now;
    length = first;
    inVain = 0;
  }

  /** The wait begins anew; what was learned stays. */
  void waiting(Duration now) {
    since = now;
  }

  /** The dashboard has said whether it is there. */
  void dashboard(boolean there) {
    dashboardThere = there;
    if (!there) {
      inVain = 0;
    }
  }

  /** Whether what is sent is refused, as far as can be told. */
  boolean refused() {
    return inVain >= IN_VAIN;
  }

  boolean isOver(Duration now) {
    return now.minus(since).compareTo(length) > 0;
  }

  /** How long it was; grows for the next time. */
  Duration over(Duration now) {
    Duration was = length;
    since = now;
    inVain = dashboardThere ? inVain + 1 : 0;
    Duration most = first.multipliedBy(refused() ? LONGEST_REFUSED : LONGEST);
    Duration doubled = length.multipliedBy(2);
    length = doubled.compareTo(most) > 0 ? most : doubled;
    return was;
  }
}
