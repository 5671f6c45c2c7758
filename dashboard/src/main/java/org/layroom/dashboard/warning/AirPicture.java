package org.layroom.dashboard.warning;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.decision.RoomDecisions;
import org.layroom.dashboard.decision.SentDecisions;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.verdict.AirState;

/** What the watches show of a room's air, for people and for the mix check. Changes nothing. */
final class AirPicture {
  private final Watches watches;
  private final RoomDecisions decisions;
  private final SentDecisions sent;
  private final DeviceWarnings own;
  private final BumpTests bumpTests;
  private final WatchClock clock;

  AirPicture(
      Watches watches,
      RoomDecisions decisions,
      SentDecisions sent,
      DeviceWarnings own,
      BumpTests bumpTests,
      WatchClock clock) {
    this.watches = watches;
    this.decisions = decisions;
    this.sent = sent;
    this.own = own;
    this.bumpTests = bumpTests;
    this.clock = clock;
  }

  /** What is known of a room's air now. */
  RoomAir air(RoomName room) {
    List<OpenWarning> warnings = new ArrayList<>();
    List<RoomAir.DeviceAir> devices = new ArrayList<>();
    for (DeviceWatch watch : watches.in(room)) {
      watch.watch().warning().ifPresent(one -> warnings.add(watch.open(one, clock)));
      own.shown(watch.channel()).ifPresent(warnings::add);
      SensorLife sensor = bumpTests.of(watch.channel()).life();
      devices.add(
          new RoomAir.DeviceAir(
              watch.channel().device(),
              watch.watch().call(),
              watch.watch().words(),
              watch.full(),
              watch.watch().cleanAirAsked(),
              watch.cleanAir(),
              watch.alarm(),
              sent.agreement(watch.channel(), watch.alarm()),
              sensor,
              watch.watch().inJob() && sensor.proof().doubt().isEmpty()
                  ? Optional.empty()
                  : sensor.asked(clock.wall())));
    }
    warnings.sort(
        Comparator.comparing(OpenWarning::call).reversed().thenComparing(OpenWarning::id));
    devices.sort(Comparator.comparing(device -> device.device().value()));
    AirCall call =
        devices.isEmpty()
            ? AirCall.UNKNOWN
            : warnings.stream().map(OpenWarning::call).findFirst().orElse(AirCall.OK);
    return new RoomAir(
        clock.wall(),
        decisions.settings(room),
        decisions.job(room),
        call,
        warnings,
        devices,
        watches.in(room).stream()
            .flatMap(watch -> watch.watch().wipingUntil().stream())
            .map(clock::wall)
            .findFirst(),
        watches.in(room).stream()
            .filter(watch -> !watch.full())
            .flatMap(watch -> watch.watch().wipingRefused().stream())
            .findFirst());
  }

  /** The state of one device's air for the mix check; what it says itself counts if worse. */
  AirState state(DeviceWatch watch) {
    Optional<OpenWarning> said = own.shown(watch.channel());
    if (said.isPresent()) {
      String why = String.join(" ", said.get().why()).strip();
      return AirState.of(
          AirState.Kind.valueOf(said.get().call().name()),
          "from the device: " + (why.endsWith(".") ? why.substring(0, why.length() - 1) : why));
    }
    return AirState.of(watch.watch());
  }
}
