package org.layroom.predictor.fumes;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** The next {@link Feed}: the one before with some of its parts changed. */
final class FeedChange {
  private RollingAverage quarter;
  private RollingAverage minute;
  private List<AirSample> earlier;
  private Optional<Feed.Newest> newest;
  private Optional<Instant> heard;
  private Optional<Instant> poweredOn;
  private Optional<String> fault;
  private Optional<String> climate;
  private Optional<Instant> pinnedSince;
  private Optional<Instant> leapAt;

  FeedChange(Feed before) {
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
  }

  FeedChange averages(
      RollingAverage ofQuarter, RollingAverage ofMinute, List<AirSample> earlierMinutes) {
    quarter = ofQuarter;
    minute = ofMinute;
    earlier = earlierMinutes;
    return this;
  }

  FeedChange newest(Optional<Feed.Newest> value) {
    newest = value;
    return this;
  }

  FeedChange heard(Instant value) {
    heard = Optional.of(heard.filter(before -> before.isAfter(value)).orElse(value));
    return this;
  }

  FeedChange poweredOn(Optional<Instant> value) {
    poweredOn = value;
    return this;
  }

  FeedChange fault(Optional<String> value) {
    fault = value;
    return this;
  }

  FeedChange climate(Optional<String> value) {
    climate = value;
    return this;
  }

  FeedChange pinnedSince(Optional<Instant> value) {
    pinnedSince = value;
    return this;
  }

  FeedChange leapAt(Optional<Instant> value) {
    leapAt = value;
    return this;
  }

  Feed feed() {
    return new Feed(
        quarter, minute, earlier, newest, heard, poweredOn, fault, climate, pinnedSince, leapAt);
  }
}
