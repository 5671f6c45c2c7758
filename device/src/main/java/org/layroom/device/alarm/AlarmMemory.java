package org.layroom.device.alarm;

import java.time.Instant;
import java.util.Optional;
import java.util.function.UnaryOperator;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.WatchMemory;

/**
 * What the alarm keeps over a restart. The job is not in it: it is kept with the decisions of the
 * dashboard.
 *
 * @param watch what was known of the air
 * @param warningId as the warning that stands was told to others; empty for none
 * @param fanOn whether the air made the fan run
 * @param mayExplode whether the air may have been explosive
 */
public record AlarmMemory(WatchMemory watch, String warningId, boolean fanOn, boolean mayExplode) {
  /** The same with its times told otherwise. */
  AlarmMemory timed(UnaryOperator<Instant> times) {
    Optional<AirWarning> warning = watch.warning().map(one -> timed(one, times));
    return new AlarmMemory(
        new WatchMemory(
            watch.base(),
            warning,
            watch.lastId(),
            watch.seenAt(),
            Optional.empty(),
            watch.wiping().map(times)),
        warningId,
        fanOn,
        mayExplode);
  }

  /** The same where nobody wipes: with nobody to tell how long ago it was, nothing is silenced. */
  AlarmMemory withoutWiping() {
    return new AlarmMemory(
        new WatchMemory(watch.base(), watch.warning(), watch.lastId(), watch.seenAt(), watch.job()),
        warningId,
        fanOn,
        mayExplode);
  }

  private static AirWarning timed(AirWarning one, UnaryOperator<Instant> times) {
    return new AirWarning(
        one.id(),
        one.call(),
        times.apply(one.since()),
        one.why(),
        one.whatToDo(),
        one.endsWhen(),
        one.acknowledged().map(seen -> new AirWarning.Seen(seen.who(), times.apply(seen.when()))),
        one.sound());
  }

  /** Whether a restart would go on the same: the figures in a warning's words do not count. */
  boolean sameAs(AlarmMemory other) {
    return watch.base() == other.watch.base()
        && watch.lastId() == other.watch.lastId()
        && watch.seenAt() == other.watch.seenAt()
        && watch.warning().isPresent() == other.watch.warning().isPresent()
        && seen(this) == seen(other)
        && watch.wiping().equals(other.watch.wiping())
        && warningId.equals(other.warningId)
        && fanOn == other.fanOn
        && mayExplode == other.mayExplode;
  }

  private static boolean seen(AlarmMemory memory) {
    return memory.watch.warning().flatMap(AirWarning::acknowledged).isPresent();
  }
}
