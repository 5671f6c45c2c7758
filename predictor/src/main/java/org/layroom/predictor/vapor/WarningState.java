package org.layroom.predictor.vapor;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The warning that stands, and how the next one follows from what the air calls for: raised anew
 * when the call changes or, once it was seen, when the air gets worse by half.
 *
 * @param base what was last known, under any unknown; unknown before anything was
 * @param warning empty when the air is ok
 * @param raised the warning, where the last step raised it
 * @param lastId of the newest warning there ever was
 * @param seenAt the minute's level at which a leave was acknowledged; 0 when none was
 */
record WarningState(
    AirCall base,
    Optional<AirWarning> warning,
    Optional<AirWarning> raised,
    long lastId,
    double seenAt) {
  /** An acknowledged leave is raised anew when the air gets worse by this factor. */
  private static final double WORSE = 1.5;

  /** Where nothing is known of a chip, so that its leave may come early, by this (as well). */
  private static final double WORSE_BEFORE_A_JOB = 4;

  /** Nothing is known yet. */
  static final WarningState NOTHING =
      new WarningState(AirCall.UNKNOWN, Optional.empty(), Optional.empty(), 0, 0);

  static WarningState remembered(WatchMemory memory) {
    return new WarningState(
        memory.base(), memory.warning(), Optional.empty(), memory.lastId(), memory.seenAt());
  }

  /**
   * What makes warnings quieter, or louder.
   *
   * @param quiet whether a job with fan and respirator makes warnings quieter here
   * @param wiping whether solvent is said to be wiped: ventilate makes no sound
   */
  record Circumstances(boolean inJob, boolean quiet, boolean wiping) {}

  /**
   * What a step has found.
   *
   * @param base what the air calls for, as far as it is known
   * @param doubts why the sensor is not believed; empty when it is
   */
  record Found(
      AirCall base,
      CallReasons evidence,
      List<String> doubts,
      VaporSensor sensor,
      Circumstances circumstances) {
    AirCall call() {
      return base == AirCall.LEAVE || doubts.isEmpty() ? base : AirCall.UNKNOWN;
    }

    List<String> why() {
      List<String> why = new ArrayList<>();
      if (call() == AirCall.LEAVE) {
        why.addAll(evidence.leaveNow());
        why.addAll(evidence.leave());
      } else if (call() == AirCall.VENTILATE) {
        why.addAll(evidence.ventilateNow());
        why.addAll(evidence.ventilate());
      }
      if (why.isEmpty() && doubts.isEmpty()) {
        why.addAll(evidence.now());
        if (!evidence.covered()) {
          why.add("Fewer than 12 of the last 15 min were measured.");
        }
      }
      why.addAll(doubts);
      return why;
    }

    AirWarning.Sound sound(boolean seen) {
      boolean heard =
          call() != AirCall.UNKNOWN || circumstances.inJob() || base == AirCall.VENTILATE;
      if (seen || !heard) {
        return AirWarning.Sound.SILENT;
      }
      if (call() == AirCall.LEAVE) {
        return AirWarning.Sound.URGENT;
      }
      if (call() == AirCall.VENTILATE && circumstances.wiping()) {
        return AirWarning.Sound.SILENT;
      }
      return circumstances.quiet() ? AirWarning.Sound.ONCE : AirWarning.Sound.REPEATED;
    }
  }

  /** Whether a leave stands that somebody has acknowledged. */
  boolean leaveSeen() {
    return warning
        .filter(one -> one.call() == AirCall.LEAVE && one.acknowledged().isPresent())
        .isPresent();
  }

  /** The same, its warning marked as seen at a level of the last minute. */
  WarningState seen(AirWarning marked, double level) {
    return new WarningState(base, Optional.of(marked), Optional.empty(), lastId, level);
  }

  /** What stands after a step. */
  WarningState after(Found found, Instant time) {
    AirCall call = found.call();
    if (call == AirCall.OK) {
      return new WarningState(found.base(), Optional.empty(), Optional.empty(), lastId, 0);
    }
    Optional<AirWarning> before = warning.filter(one -> one.call() == call);
    boolean raise = before.isEmpty() || worse(found);
    long id = raise ? lastId + 1 : lastId;
    Optional<AirWarning.Seen> seen =
        raise ? Optional.empty() : before.flatMap(AirWarning::acknowledged);
    AirWarning next =
        new AirWarning(
            id,
            call,
            raise ? time : before.map(AirWarning::since).orElse(time),
            found.why(),
            WatchWords.whatToDo(call),
            WatchWords.endsWhen(call, found.sensor(), found.circumstances().quiet()),
            seen,
            found.sound(seen.isPresent()));
    return new WarningState(
        found.base(),
        Optional.of(next),
        raise ? Optional.of(next) : Optional.empty(),
        id,
        raise ? 0 : seenAt);
  }

  private static boolean nothingLearned(VaporSensor sensor) {
    return sensor instanceof VaporSensor.Chip chip && chip.leave().equals(LeaveLevels.FIRST);
  }

  private boolean worse(Found found) {
    return found.call() == AirCall.LEAVE
        && leaveSeen()
        && !(found.evidence().leaveNow().isEmpty() && found.evidence().leave().isEmpty())
        && found.evidence().minuteLevel()
            >= (nothingLearned(found.sensor()) ? WORSE_BEFORE_A_JOB : WORSE) * seenAt
        && seenAt > 0;
  }
}
