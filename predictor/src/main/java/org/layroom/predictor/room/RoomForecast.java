package org.layroom.predictor.room;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * The room from a time on.
 *
 * @param at when the forecast was made
 * @param length how far it reaches
 * @param air air temperature, degC
 * @param mold temperature of the mold surface, degC, where it is measured
 * @param humidity relative humidity, %, where it is measured
 * @param skill how the forecast has done here lately
 * @param changes jumps seen in the last three days, newest last
 * @param newestReadingAge how old the newest air temperature was
 */
public record RoomForecast(
    Instant at,
    Duration length,
    SeriesForecast air,
    Optional<SeriesForecast> mold,
    Optional<SeriesForecast> humidity,
    RoomSkill skill,
    List<RoomChange> changes,
    Duration newestReadingAge)
    implements RoomAnswer {
  public RoomForecast {
    changes = List.copyOf(changes);
  }

  /** The mold where it is measured, else the air. */
  public SeriesForecast moldOrAir() {
    return mold.orElse(air);
  }
}
