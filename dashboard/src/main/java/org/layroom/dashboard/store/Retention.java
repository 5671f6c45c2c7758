package org.layroom.dashboard.store;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * How long each level is kept; empty is for ever.
 *
 * @param readings raw readings and rejected values
 * @param minutes one-minute averages, at least as long as the readings
 * @param hours hourly averages, at least as long as the minutes
 */
public record Retention(
    Optional<Duration> readings, Optional<Duration> minutes, Optional<Duration> hours) {
  /** What is kept unless somebody says otherwise. */
  public static final Retention USUAL =
      new Retention(Optional.of(Duration.ofDays(400)), Optional.empty(), Optional.empty());

  public Retention {
    if (longer(readings, minutes) || longer(minutes, hours)) {
      throw new IllegalArgumentException("a coarser level is kept at least as long as a finer one");
    }
  }

  private static boolean longer(Optional<Duration> one, Optional<Duration> other) {
    return other.isPresent() && (one.isEmpty() || one.get().compareTo(other.get()) > 0);
  }

  /** How long a level is kept. */
  public Optional<Duration> kept(Level level) {
    return switch (level) {
      case READINGS -> readings;
      case MINUTES -> minutes;
      case HOURS -> hours;
    };
  }

  /** What is kept and what it costs. */
  public String words() {
    List<String> said = new ArrayList<>();
    for (Level level : Level.values()) {
      said.add(
          level.words()
              + " "
              + kept(level).map(time -> time.toDays() + " days").orElse("forever")
              + " ("
              + level.megabytesAYear()
              + " MB a year)");
    }
    return "Kept: "
        + String.join(", ", said)
        + "; the sizes are those of a device that measures six series every 10 s";
  }

  /**
   * Drops what is older than it is kept.
   *
   * @param open stretches of parts that are not finished: nothing of them is dropped
   * @param finished stretches of finished parts: of them only raw readings are dropped, since their
   *     records are drawn from minutes
   * @return what was dropped, in words, one entry a level
   */
  public List<String> drop(Archive archive, Instant now, List<Spared> open, List<Spared> finished) {
    List<String> said = new ArrayList<>();
    List<Spared> all = new ArrayList<>(open);
    all.addAll(finished);
    for (Level level : Level.values()) {
      if (kept(level).isPresent()) {
        Duration kept = kept(level).get();
        List<Spared> spared = level == Level.READINGS ? open : all;
        int dropped = archive.dropBefore(level, now.minus(kept), spared);
        if (dropped > 0) {
          said.add(
              dropped + " rows of " + level.words() + " older than " + kept.toDays() + " days");
        }
      }
    }
    return said;
  }
}
