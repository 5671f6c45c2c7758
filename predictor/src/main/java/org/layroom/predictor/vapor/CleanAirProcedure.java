package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.exposure.AirAverage;

/**
 * Taking a clean-air reading on purpose: air the room with no open resin and no part that still
 * cures, wait for the chip to settle, then take the mean of five quiet minutes. It is never taken
 * by itself, and one that is dirtier than the last by 400 ticks is only taken when somebody says
 * so. Immutable.
 */
public final class CleanAirProcedure {
  /** How long the room is aired first (this project's choice). */
  public static final Duration AIRING = Duration.ofMinutes(30);

  /** How long the signal is looked at (this project's choice). */
  public static final Duration LOOKING = Duration.ofMinutes(5);

  /** The chip's own settling after it was switched on. */
  public static final Duration SETTLING = Duration.ofHours(1);

  private static final Duration LONGEST_PAUSE = Duration.ofSeconds(90);

  /** A signal that wanders more than this is not that of aired-out air, ticks. */
  private static final double QUIET_TICKS = 150;

  private final Instant start;
  private final Promises promises;
  private final Optional<Instant> poweredOn;
  private final Optional<CleanAirReading> last;
  private final List<AirEvent.Ticks> looked;

  /**
   * What the person says before it begins.
   *
   * @param airedToOutdoors the room is being aired from outdoors
   * @param noOpenResin no can, cup or solvent is open
   * @param nothingCuring no part in the room was laid up within the last days
   */
  public record Promises(boolean airedToOutdoors, boolean noOpenResin, boolean nothingCuring) {}

  /** How far it is. */
  public sealed interface Progress {
    /** Not yet, with what to do; the time is the least that is left. */
    record Waiting(String words, Duration left) implements Progress {}

    /** Cannot be taken, with what to change. */
    record Refused(List<String> reasons) implements Progress {
      public Refused {
        reasons = List.copyOf(reasons);
      }
    }

    /** Taken: keep it. */
    record Taken(CleanAirReading reading) implements Progress {}

    /** To be taken only when the person confirms it, with the reason to doubt it. */
    record Doubtful(CleanAirReading reading, String words) implements Progress {}
  }

  private CleanAirProcedure(
      Instant start,
      Promises promises,
      Optional<Instant> poweredOn,
      Optional<CleanAirReading> last,
      List<AirEvent.Ticks> looked) {
    this.start = start;
    this.promises = promises;
    this.poweredOn = poweredOn;
    this.last = last;
    this.looked = looked;
  }

  /**
   * Begins.
   *
   * @param poweredOn when the chip was switched on, where known
   * @param last the reading before this one
   */
  public static CleanAirProcedure begun(
      Instant start,
      Promises promises,
      Optional<Instant> poweredOn,
      Optional<CleanAirReading> last) {
    return new CleanAirProcedure(start, promises, poweredOn, last, List.of());
  }

  /** With one more reading; only the last five minutes count, and a pause starts them anew. */
  public CleanAirProcedure plus(AirEvent.Ticks reading) {
    List<AirEvent.Ticks> next = new ArrayList<>();
    Instant oldest = reading.time().minus(LOOKING);
    for (AirEvent.Ticks one : looked) {
      if (!one.time().isBefore(oldest)) {
        next.add(one);
      }
    }
    if (!looked.isEmpty()) {
      Instant newest = looked.get(looked.size() - 1).time();
      if (!reading.time().isAfter(newest)) {
        return this;
      }
      if (Duration.between(newest, reading.time()).compareTo(LONGEST_PAUSE) > 0) {
        next.clear();
      }
    }
    next.add(reading);
    return new CleanAirProcedure(start, promises, poweredOn, last, List.copyOf(next));
  }

  /** How far it is now. */
  public Progress progress(Instant now) {
    List<String> reasons = broken();
    if (!reasons.isEmpty()) {
      return new Progress.Refused(reasons);
    }
    Instant ready = start.plus(AIRING);
    Instant settled = poweredOn.map(at -> at.plus(SETTLING)).orElse(ready);
    Instant from = settled.isAfter(ready) ? settled : ready;
    if (now.isBefore(from)) {
      return new Progress.Waiting(
          "Air the room to the outdoors and keep every can shut.", Duration.between(now, from));
    }
    return looked(now, from);
  }

  private Progress looked(Instant now, Instant from) {
    List<AirEvent.Ticks> counted =
        looked.stream().filter(one -> !one.time().isBefore(from)).toList();
    Duration seen =
        counted.isEmpty()
            ? Duration.ZERO
            : Duration.between(counted.get(0).time(), counted.get(counted.size() - 1).time());
    Duration enough = LOOKING.minus(LONGEST_PAUSE);
    boolean silent =
        !counted.isEmpty()
            && Duration.between(counted.get(counted.size() - 1).time(), now)
                    .compareTo(LONGEST_PAUSE)
                > 0;
    if (seen.compareTo(enough) < 0 || silent) {
      return new Progress.Waiting(
          "Checking the signal. Stay away from the sensor.",
          silent ? LOOKING : LOOKING.minus(seen));
    }
    if (counted.stream().anyMatch(one -> WatchWords.doubt(one.climate()).isPresent())) {
      return new Progress.Refused(
          List.of("The sensor needs 10 to 40 °C and 20 to 80 % humidity for this."));
    }
    Optional<String> doubt =
        counted.stream().flatMap(one -> one.doubt().stream()).reduce((older, newer) -> newer);
    if (doubt.isPresent()) {
      return new Progress.Waiting("The sensor is not reliable yet: " + doubt.get() + ".", LOOKING);
    }
    double highest = counted.stream().mapToDouble(AirEvent.Ticks::ticks).max().orElse(0);
    double lowest = counted.stream().mapToDouble(AirEvent.Ticks::ticks).min().orElse(0);
    if (highest - lowest > QUIET_TICKS) {
      return new Progress.Waiting(
          "The signal is still changing. Keep airing, and look for what gives off vapor.", LOOKING);
    }
    return judged(counted);
  }

  private Progress judged(List<AirEvent.Ticks> counted) {
    double mean = counted.stream().mapToDouble(AirEvent.Ticks::ticks).average().orElse(0);
    if (!(mean >= 1 && mean <= 65_534)) {
      return new Progress.Refused(List.of("The sensor is at the end of its range."));
    }
    AirEvent.Ticks newest = counted.get(counted.size() - 1);
    AirEvent.Climate climate = newest.climate().orElseThrow();
    CleanAirReading reading =
        new CleanAirReading(
            mean,
            newest.time(),
            OptionalDouble.of(climate.temperatureC()),
            OptionalDouble.of(climate.humidityPct()));
    double dirtier = last.map(before -> before.ticks() - mean).orElse(0.0);
    return dirtier >= CleanAirReading.DRIFT_TICKS
        ? new Progress.Doubtful(
            reading,
            "This air reads dirtier than the last clean-air reading. If you take it, warnings"
                + " will come later than before. Air longer and try again. Take it only if the"
                + " sensor has aged or was replaced.")
        : new Progress.Taken(reading);
  }

  private List<String> broken() {
    List<String> reasons = new ArrayList<>();
    if (!promises.airedToOutdoors()) {
      reasons.add("Open the room to the outdoors or run the fan first.");
    }
    if (!promises.noOpenResin()) {
      reasons.add("Shut every can and take out cups, solvent and rags first.");
    }
    if (!promises.nothingCuring()) {
      reasons.add("A curing part gives off vapor for days. Take it out of the room, or wait.");
    }
    return reasons;
  }

  /** Whether a reading is asked for, and why. */
  static Optional<String> asked(
      Optional<CleanAirReading> reading, Optional<AirAverage> quarter, Instant now) {
    if (reading.isEmpty()) {
      return Optional.of("No clean-air reading yet. Take one before you open a can.");
    }
    if (reading.get().staleAt(now)) {
      return Optional.of(
          "The clean-air reading is over 30 days old and no longer counts. Take a new one.");
    }
    if (reading.get().dueAt(now)) {
      return Optional.of("The clean-air reading is over 7 days old. Take a new one.");
    }
    double cleaner = StrictMath.pow(2, -CleanAirReading.DRIFT_TICKS / VocLevel.TICKS_PER_DOUBLING);
    return quarter.filter(mean -> mean.value() <= cleaner).isPresent()
        ? Optional.of("The air reads cleaner than the clean-air reading. Take a new one.")
        : Optional.empty();
  }
}
