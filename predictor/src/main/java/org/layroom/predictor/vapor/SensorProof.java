package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What speaks for a vapor sensor being able to sense vapor, and when somebody is asked to prove it:
 * a metal-oxide chip that silicone has poisoned reads like clean air for ever. The times are this
 * project's own choice. Immutable.
 *
 * @param since when it was first heard, or fitted anew
 * @param test its newest bump test
 * @param rise when it last showed a rise in a job
 * @param movedCleanAir when a clean-air reading last moved by much
 * @param missed when it last showed no rise after a cup was mixed
 * @param fitted when somebody said that it was put in for another; empty for the first
 */
public record SensorProof(
    Instant since,
    Optional<BumpResult> test,
    Optional<Instant> rise,
    Optional<Instant> movedCleanAir,
    Optional<Instant> missed,
    Optional<Instant> fitted) {
  /** So long a rise or a test stands for the sensor. */
  public static final Duration STANDS = Duration.ofDays(30);

  /** From this age on it is asked for once more. */
  public static final Duration OLD = Duration.ofDays(365);

  /** A sensor of which nothing is known yet. */
  public static SensorProof since(Instant heard) {
    return new SensorProof(
        heard,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty());
  }

  /** A sensor that was put in for another: nothing of that one holds for it. */
  public static SensorProof fitted(Instant at) {
    return new SensorProof(
        at,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.of(at));
  }

  /** The same, first heard at another time; of one that was fitted it is known when. */
  public SensorProof heardSince(Instant at) {
    return fitted.isPresent()
        ? this
        : new SensorProof(at, test, rise, movedCleanAir, missed, fitted);
  }

  public SensorProof tested(BumpResult result) {
    return new SensorProof(since, Optional.of(result), rise, movedCleanAir, missed, fitted);
  }

  public SensorProof rose(Instant at) {
    return new SensorProof(since, test, Optional.of(at), movedCleanAir, missed, fitted);
  }

  public SensorProof cleanAirMoved(Instant at) {
    return new SensorProof(since, test, rise, Optional.of(at), missed, fitted);
  }

  public SensorProof missedARise(Instant at) {
    return new SensorProof(since, test, rise, movedCleanAir, Optional.of(at), fitted);
  }

  /** When it was last seen to sense vapor. */
  public Optional<Instant> proven() {
    return Stream.concat(passed().stream(), rise.stream()).max(Instant::compareTo);
  }

  /** Whether it was seen to sense vapor lately, so that a low reading means low vapor. */
  public boolean provenLately(Instant now) {
    return doubt().isEmpty()
        && proven().filter(at -> Duration.between(at, now).compareTo(STANDS) < 0).isPresent();
  }

  private Optional<Instant> passed() {
    return test.filter(BumpResult::passed).map(BumpResult::time);
  }

  private boolean failed() {
    return test.filter(one -> !one.passed()).filter(one -> openSince(one.time())).isPresent();
  }

  /** Whether it was not seen to sense vapor since. */
  private boolean openSince(Instant at) {
    return proven().filter(proof -> proof.isAfter(at)).isEmpty();
  }

  /** Why nothing that it says of clean air is believed, in words; empty when it is. */
  public Optional<String> doubt() {
    if (failed()) {
      return Optional.of(
          "The sensor failed its bump test: it may no longer sense vapor. Clean its opening, check"
              + " its wires and test it again. Replace it when it fails twice.");
    }
    return missed.filter(this::openSince).isPresent()
        ? Optional.of(
            "A cup was mixed and the sensor showed no rise within 15 min: it may no longer sense"
                + " vapor. Do a bump test.")
        : Optional.empty();
  }

  /** Whether it was put in for another and was not seen to sense vapor yet. */
  public boolean fittedUnproven() {
    return fitted.filter(this::openSince).isPresent();
  }

  /** Why a bump test is asked for, in words; empty when none is. */
  public Optional<String> asked(Instant now) {
    if (doubt().isPresent()) {
      return doubt();
    }
    if (movedCleanAir.filter(this::openSince).isPresent()) {
      return Optional.of(
          "The clean-air reading moved by much. Do a bump test, to see that the sensor still senses"
              + " vapor.");
    }
    if (fittedUnproven()) {
      return Optional.of(
          "A new sensor was fitted. Take a clean-air reading where it needs one, then do a bump"
              + " test.");
    }
    Instant old = since.plus(OLD);
    boolean untestedInOldAge =
        !now.isBefore(old) && passed().filter(at -> !at.isBefore(old)).isEmpty();
    if (untestedInOldAge) {
      return Optional.of("The sensor is a year old. Do a bump test.");
    }
    Instant newest = proven().filter(at -> at.isAfter(since)).orElse(since);
    return Duration.between(newest, now).compareTo(STANDS) >= 0
        ? Optional.of("No test and no rise in a job for 30 days. Do a bump test.")
        : Optional.empty();
  }
}
