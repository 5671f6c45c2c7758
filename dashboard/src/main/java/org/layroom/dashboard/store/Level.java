package org.layroom.dashboard.store;

/** How finely the past is kept. Each level is worked out from the one before it. */
public enum Level {
  /** Every reading as it came. */
  READINGS("raw readings", 400),
  /** One row a series and minute. */
  MINUTES("one-minute averages", 145),
  /** One row a series and hour. */
  HOURS("hourly averages", 2);

  private final String words;
  private final int megabytesAYear;

  Level(String words, int megabytesAYear) {
    this.words = words;
    this.megabytesAYear = megabytesAYear;
  }

  /** What a person calls it, in the plural. */
  public String words() {
    return words;
  }

  /**
   * What a year of one device takes on the disk that measures six series every ten seconds, MB:
   * measured, see STORE.md.
   */
  public int megabytesAYear() {
    return megabytesAYear;
  }
}
