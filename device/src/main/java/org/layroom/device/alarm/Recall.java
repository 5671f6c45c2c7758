package org.layroom.device.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.VaporWatch;
import org.layroom.predictor.vapor.WatchSettings;

/**
 * What a start goes by that finds bad air recorded, until its own sensor is believed: a call to
 * ventilate stands over <i>unknown</i>, and the fan runs on where the record is young. A recorded
 * call to leave stands by the watch's own rule. Not safe for several threads.
 */
final class Recall {
  /** An older record brings back the alarm, not the fan (this project's choice). */
  static final Duration YOUNG = Duration.ofHours(8);

  private static final String RECORDED = "The air called for ventilation before the restart.";

  private Optional<VaporWatch> own;
  private Optional<AirWarning> recorded;
  private boolean old;

  private Recall(Optional<VaporWatch> own, Optional<AirWarning> recorded, boolean old) {
    this.own = own;
    this.recorded = recorded;
    this.old = old;
  }

  /** Nothing was recorded. */
  static Recall nothing() {
    return new Recall(Optional.empty(), Optional.empty(), false);
  }

  /**
   * A start with a record.
   *
   * @param warning what stood; empty for nothing
   * @param age of the record; empty where nobody can tell: it counts as young
   */
  static Recall of(
      WatchSettings settings, Instant now, Optional<AirWarning> warning, Optional<Duration> age) {
    return new Recall(
        Optional.of(VaporWatch.started(settings, now)),
        warning.filter(one -> one.call() == AirCall.VENTILATE),
        age.filter(time -> time.compareTo(YOUNG) > 0).isPresent());
  }

  /** The age is known only now. */
  void aged(Duration age) {
    old = own.isPresent() && age.compareTo(YOUNG) > 0;
  }

  /** What happens to the watch; ends this as soon as the start's own sensor says what air it is. */
  void plus(AirEvent event) {
    own = own.map(watch -> watch.plus(event));
    if (own.filter(watch -> watch.call() != AirCall.UNKNOWN).isPresent()) {
      own = Optional.empty();
      recorded = Optional.empty();
      old = false;
    }
  }

  /** The warning that stands. */
  Optional<AirWarning> warning(VaporWatch watch) {
    return watch.warning().map(now -> stands(watch) ? over(now, recorded.orElseThrow()) : now);
  }

  private boolean stands(VaporWatch watch) {
    return recorded.isPresent()
        && watch.call() == AirCall.UNKNOWN
        && watch.memory().base() == AirCall.VENTILATE;
  }

  private static AirWarning over(AirWarning now, AirWarning then) {
    List<String> why = new ArrayList<>();
    why.add(RECORDED);
    why.addAll(now.why());
    return new AirWarning(
        then.id(),
        then.call(),
        then.since(),
        why,
        then.whatToDo(),
        then.endsWhen(),
        then.acknowledged(),
        then.acknowledged().isPresent() ? AirWarning.Sound.SILENT : now.sound());
  }

  /** Somebody has seen the recorded warning; another one is the watch's own business. */
  void seen(long id, AirWarning.Seen by) {
    recorded =
        recorded.map(
            one ->
                one.id() == id && one.acknowledged().isEmpty()
                    ? new AirWarning(
                        one.id(),
                        one.call(),
                        one.since(),
                        one.why(),
                        one.whatToDo(),
                        one.endsWhen(),
                        Optional.of(by),
                        AirWarning.Sound.SILENT)
                    : one);
  }

  /** What the fan goes by: beside an old record only what this start has found by itself. */
  AirCall forTheFan(VaporWatch watch) {
    if (!old) {
      return watch.memory().base();
    }
    AirCall found = own.orElse(watch).memory().base();
    return found == AirCall.UNKNOWN ? AirCall.OK : found;
  }

  /** The warning to be kept over the next restart. */
  Optional<AirWarning> toKeep(VaporWatch watch) {
    return stands(watch) ? recorded : watch.warning();
  }
}
