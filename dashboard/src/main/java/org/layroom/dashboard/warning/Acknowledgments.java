package org.layroom.dashboard.warning;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.layroom.dashboard.decision.SentAcknowledgments;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.AirWarning;

/**
 * Who has seen a warning, here or at the device: what somebody has seen of the one counts for the
 * other where both mean the same rise. Steps a watch and gives back what that changed. Not for
 * several threads.
 */
final class Acknowledgments {
  /** Two warnings of one rise begin at most so far apart. */
  private static final Duration SAME_RISE = Duration.ofMinutes(10);

  private final WarningLog log;
  private final SentAcknowledgments sent;
  private final WatchClock clock;

  Acknowledgments(WarningLog log, SentAcknowledgments sent, WatchClock clock) {
    this.log = log;
    this.sent = sent;
    this.clock = clock;
  }

  /** Whether this was said before, under the id that whoever says so has made. */
  boolean saidBefore(RoomName room, String saidAs) {
    return log.said(room, saidAs).isPresent();
  }

  /** Somebody has seen what stands here; empty when this was said before. */
  Optional<DeviceWatch.Change> see(
      DeviceWatch watch, AirWarning standing, String saidAs, String who) {
    AirWarning.Seen seen = new AirWarning.Seen(who, clock.wall());
    return log.seen(watch.channel().room(), watch.id(standing), saidAs, seen)
        ? Optional.of(
            watch.plus(new AirEvent.Acknowledged(watch.watch().now(), standing.id(), who)))
        : Optional.empty();
  }

  /** Somebody has seen the device's own alarm, here. */
  void seeOwn(DeviceWatch watch, AlarmState own, String saidAs, String who) {
    log.seen(
        watch.channel().room(),
        DeviceWarnings.id(watch.channel(), own),
        saidAs,
        new AirWarning.Seen(who, clock.wall()));
  }

  /**
   * What somebody has seen of the device's alarm counts upstairs too, for the same call: here, when
   * it was seen while this one stood.
   */
  Optional<DeviceWatch.Change> takenOver(DeviceWatch watch, AlarmState said) {
    return takenOver(watch, said, false);
  }

  /** The device called out first, by the same rise, and somebody has seen that already. */
  Optional<DeviceWatch.Change> joined(DeviceWatch watch, AirWarning raised) {
    return watch
        .alarm()
        .filter(said -> said.since().filter(since -> sameRise(since, raised)).isPresent())
        .flatMap(said -> takenOver(watch, said, true));
  }

  private boolean sameRise(Instant since, AirWarning raised) {
    return Duration.between(clock.of(since), raised.since()).abs().compareTo(SAME_RISE) <= 0;
  }

  private Optional<DeviceWatch.Change> takenOver(
      DeviceWatch watch, AlarmState said, boolean sameRise) {
    Optional<AirWarning> standing =
        watch
            .watch()
            .warning()
            .filter(one -> one.acknowledged().isEmpty())
            .filter(one -> one.call() == DeviceWarnings.call(said));
    Optional<Acknowledgment> seen = said.acknowledged().or(() -> sent.of(watch.channel(), said));
    if (standing.isEmpty() || seen.isEmpty()) {
      return Optional.empty();
    }
    AirWarning here = standing.get();
    return sameRise || !clock.of(seen.get().when()).isBefore(here.since())
        ? see(watch, here, "device/" + said.id() + "/" + here.id(), seen.get().who())
        : Optional.empty();
  }

  /**
   * A device that has said what its alarm is hears what it missed: an acknowledgment that was sent,
   * or, when it has started anew and calls out under a new id, who has seen that here already.
   */
  void answer(DeviceWatch watch, AlarmState said) {
    sent.sendAgain(watch.channel(), said);
    Optional<AirWarning> standing = watch.watch().warning();
    standing
        .flatMap(AirWarning::acknowledged)
        .ifPresent(seen -> tellDevice(watch, standing.get().call(), seen));
  }

  /** Tells a device that its alarm was seen, when it is no worse than what was seen here. */
  void tellDevice(DeviceWatch watch, AirCall call, AirWarning.Seen seen) {
    watch
        .alarm()
        .filter(one -> !one.id().isEmpty() && one.acknowledged().isEmpty())
        .filter(one -> !DeviceWarnings.worse(one, call))
        .ifPresent(
            one ->
                sent.send(watch.channel(), new Acknowledgment(one.id(), seen.who(), seen.when())));
  }
}
