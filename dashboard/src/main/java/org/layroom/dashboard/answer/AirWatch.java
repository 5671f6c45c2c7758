package org.layroom.dashboard.answer;

import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.RoomListener;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.fumes.AirSample;
import org.layroom.predictor.verdict.AirLevels;
import org.layroom.predictor.verdict.AirState;

/** Follows each room's vapor level as it is stored, so that its state can be told at any time. */
final class AirWatch implements RoomListener {
  private static final double MOST_TOLD = 100;
  private static final Duration LOOK_BACK = Duration.ofMinutes(17);

  private final DashboardCore core;
  private final Map<RoomName, AirLevels> levels = new ConcurrentHashMap<>();

  AirWatch(DashboardCore core) {
    this.core = core;
    core.addListener(this);
  }

  @Override
  public void stored(StoreEntry.Sample sample, boolean backlog) {
    RoomName room = sample.channel().room();
    if (backlog || !levels.containsKey(room)) {
      return;
    }
    for (Reading reading : sample.readings()) {
      if (reading.name().equals(Series.VOC_LEVEL)
          && reading.value().isPresent()
          && speaks(sample)) {
        AirSample level = new AirSample(sample.times().corrected(), reading.value().getAsDouble());
        levels.computeIfPresent(room, (name, known) -> known.plus(level));
      }
    }
  }

  private boolean speaks(StoreEntry.Sample sample) {
    return core.snapshot(sample.channel().room())
        .value(Series.VOC_LEVEL)
        .filter(value -> value.device().equals(sample.channel().device()))
        .isPresent();
  }

  /** The state of a room's air at the moment of a snapshot of it. */
  AirState state(RoomSnapshot room) {
    if (room.value(Series.VOC_LEVEL).isEmpty()) {
      return room.value(Series.VOC_RAW).isPresent()
          ? AirState.of(
              AirState.Kind.UNKNOWN, "no clean-air reading has been taken for the vapor sensor")
          : AirState.notMeasured();
    }
    AirState state =
        levels.computeIfAbsent(room.room(), name -> fromStore(name, room.at())).at(room.at());
    Quality quality = room.value(Series.VOC_LEVEL).orElseThrow().reading().quality();
    return quality.isGood() || state.kind() == AirState.Kind.LEAVE
        ? state
        : AirState.of(AirState.Kind.UNKNOWN, "vapor sensor " + quality.words());
  }

  /** Beyond a hundred times clean air the chip says only "at least". */
  private static AirSample level(Instant time, double timesCleanAir) {
    return new AirSample(time, Math.min(MOST_TOLD, timesCleanAir));
  }

  private AirLevels fromStore(RoomName room, Instant now) {
    AirLevels[] known = {AirLevels.none()};
    core.store()
        .history()
        .values(
            room,
            Series.VOC_LEVEL,
            now.minus(LOOK_BACK),
            now.plusMillis(1),
            (time, value) -> known[0] = known[0].plus(level(time, value)));
    return known[0];
  }
}
