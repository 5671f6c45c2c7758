package org.layroom.predictor.vapor;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.layroom.predictor.exposure.AirSample;
import org.layroom.predictor.exposure.RollingAverage;

/** The next {@link SensorFeed}: the one before with some of its parts changed. */
final class SensorFeedBuilder {
  private RollingAverage quarter;
  private RollingAverage minute;
  private List<AirSample> earlier;
  private Optional<SensorFeed.Newest> newest;
  private Optional<Instant> heard;
  private Optional<Instant> poweredOn;
  private Optional<String> fault;
  private Optional<String> climate;
  private Optional<Instant> pinnedSince;
  private Optional<Instant> leapAt;
  private Optional<SensorFeed.Held> held;

  SensorFeedBuilder(SensorFeed before) {
    quarter = before.quarter();
    minute = before.minute();
    earlier = before.earlier();
    newest = before.newest();
    heard = before.heard();
    poweredOn = before.poweredOn();
    fault = before.fault();
    climate = before.climate();
    pinnedSince = before.pinnedSince();
    leapAt = before.leapAt();
    held = before.held();
  }

  SensorFeedBuilder averages(
      RollingAverage ofQuarter, RollingAverage ofMinute, List<AirSample> earlierMinutes) {
    quarter = ofQuarter;
    minute = ofMinute;
    earlier = earlierMinutes;
    return this;
  }

  SensorFeedBuilder newest(Optional<SensorFeed.Newest> value) {
    newest = value;
    return this;
  }

  SensorFeedBuilder heard(Instant value) {
    heard = Optional.of(heard.filter(before -> before.isAfter(value)).orElse(value));
    return this;
  }

  SensorFeedBuilder poweredOn(Optional<Instant> value) {
    poweredOn = value;
    return this;
  }

  SensorFeedBuilder fault(Optional<String> value) {
    fault = value;
    return this;
  }

  SensorFeedBuilder climate(Optional<String> value) {
    climate = value;
    return this;
  }

  SensorFeedBuilder pinnedSince(Optional<Instant> value) {
    pinnedSince = value;
    return this;
  }

  SensorFeedBuilder leapAt(Optional<Instant> value) {
    leapAt = value;
    return this;
  }

  SensorFeedBuilder held(Optional<SensorFeed.Held> value) {
    held = value;
    return this;
  }

  SensorFeed feed() {
    return new SensorFeed(
        quarter,
        minute,
        earlier,
        newest,
        heard,
        poweredOn,
        fault,
        climate,
        pinnedSince,
        leapAt,
        held);
  }
}
