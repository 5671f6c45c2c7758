package org.layroom.dashboard.warning;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.fumes.AirCall;
import org.layroom.predictor.fumes.AirWarning;
import org.layroom.predictor.fumes.WatchSettings;
import org.layroom.predictor.verdict.AirState;

/** What the watches show of a room's air, for people and for the mix check. Changes nothing. */
final class AirPicture {
  private final Map<Channel, DeviceWatch> watches;
  private final RoomDecisions decisions;
  private final DeviceDesk desk;
  private final Pace pace;
  private final WatchClock clock;

  /**
   * A picture of watches that somebody else keeps.
   *
   * @param watches as they are at each question
   */
  AirPicture(
      Map<Channel, DeviceWatch> watches,
      RoomDecisions decisions,
      DeviceDesk desk,
      Pace pace,
      WatchClock clock) {
    this.watches = watches;
    this.decisions = decisions;
    this.desk = desk;
    this.pace = pace;
    this.clock = clock;
  }

  static boolean full(DeviceWatch watch) {
    return watch.watch().settings().place() == WatchSettings.Place.HOUSE_SIDE;
  }

  static String id(DeviceWatch watch, AirWarning warning) {
    return watch.channel().device() + "-" + warning.id();
  }

  OpenWarning open(DeviceWatch watch, AirWarning warning) {
    return new OpenWarning(
        id(watch, warning),
        watch.channel().device(),
        OpenWarning.Source.DASHBOARD,
        full(watch),
        warning.call(),
        clock.wall(warning.since()),
        warning.why(),
        warning.whatToDo(),
        warning.endsWhen(),
        warning
            .acknowledged()
            .map(seen -> new AirWarning.Seen(seen.who(), clock.wall(seen.when()))));
  }

  /** What is known of a room's air now. */
  RoomAir air(RoomName room) {
    List<OpenWarning> warnings = new ArrayList<>();
    List<RoomAir.DeviceAir> devices = new ArrayList<>();
    for (DeviceWatch watch : watches.values()) {
      if (watch.channel().room().equals(room)) {
        watch.watch().warning().ifPresent(one -> warnings.add(open(watch, one)));
        desk.shown(watch.channel()).ifPresent(warnings::add);
        devices.add(
            new RoomAir.DeviceAir(
                watch.channel().device(),
                watch.watch().call(),
                watch.watch().words(),
                full(watch),
                watch.watch().cleanAirAsked(),
                watch.cleanAir(),
                watch.alarm(),
                desk.agreement(watch)));
      }
    }
    warnings.sort(
        Comparator.comparing(OpenWarning::call).reversed().thenComparing(OpenWarning::id));
    devices.sort(Comparator.comparing(device -> device.device().value()));
    AirCall call =
        devices.isEmpty()
            ? AirCall.UNKNOWN
            : warnings.stream().map(OpenWarning::call).findFirst().orElse(AirCall.OK);
    return new RoomAir(
        pace.now(), decisions.settings(room), decisions.job(room), call, warnings, devices);
  }

  /** The state of one device's air for the mix check; what it says itself counts if worse. */
  AirState state(DeviceWatch watch) {
    Optional<OpenWarning> own = desk.shown(watch.channel());
    if (own.isPresent()) {
      String why = String.join(" ", own.get().why()).strip();
      return AirState.of(
          AirState.Kind.valueOf(own.get().call().name()),
          "the device itself says: "
              + (why.endsWith(".") ? why.substring(0, why.length() - 1) : why));
    }
    return AirState.of(watch.watch());
  }
}
