package org.layroom.dashboard.alarms;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.LeaveLevels;

/**
 * Runs a shop through the rule as a floor ships it, and holds what was said against the true air. A
 * person acknowledges a leave two minutes after it was raised; the air does not obey.
 */
final class Judge {
  /** What no leave may be missed at: ten times the eight-hour limit or this, whichever is lower. */
  static final double DANGER_PPM = 350;

  static final double DANGER_TIMES_LIMIT = 10;

  /** An hour of danger that ends within this asks for nothing. */
  static final Duration SHORTEST = Duration.ofMinutes(3);

  /** A leave that comes later than this after the minute's mean was dangerous was missed. */
  static final Duration LATEST = Duration.ofMinutes(3);

  /**
   * A leave is false when, for a quarter of an hour before it and after it, the vapors together
   * never came to this many times their eight-hour limits (the short-term limit of styrene is twice
   * the other).
   */
  static final double TRUE_FROM = 2;

  static final Instant START = Instant.parse("2026-03-02T06:00:00Z");
  private static final Duration JUDGED_AFTER = Duration.ofMinutes(15);
  private static final Duration SEEN_AFTER = Duration.ofMinutes(2);

  private final Shop shop;
  private final Floor floor;
  private final Truth truth;
  private final boolean canTell;
  private final double dangerPpm;
  private final Map<String, Long> heard = new HashMap<>();
  private final Map<String, Instant> toSee = new HashMap<>();
  private final Deque<Instant> doubted = new ArrayDeque<>();

  private Optional<Instant> dangerSince = Optional.empty();
  private Optional<Instant> leaveAtDanger = Optional.empty();
  private Optional<Instant> airingDue = Optional.empty();
  private Optional<Instant> airedSince = Optional.empty();
  private Optional<Instant> leftSince = Optional.empty();
  private boolean unknownAtDanger;
  private boolean counted;
  private AirCall before = AirCall.UNKNOWN;

  private OptionalLong leaveDelay = OptionalLong.empty();
  private OptionalLong airingDelay = OptionalLong.empty();
  private int dangers;
  private int missed;
  private int unknown;
  private int falseLeaves;
  private int leaves;
  private int leavesUnannounced;
  private long unknownMoments;
  private long moments;
  private Duration length = Duration.ZERO;

  private Judge(Shop shop, Floor floor) {
    this.shop = shop;
    this.floor = floor;
    truth = new Truth(shop.eightHourPpm());
    canTell = shop.sensors().stream().anyMatch(Sensor::canTell);
    dangerPpm = Math.min(DANGER_PPM, DANGER_TIMES_LIMIT * shop.eightHourPpm());
  }

  /**
   * Runs a shop through both floors at once; what the dashboard learns the device is told.
   *
   * @param seed of all that is random in the shop
   */
  static List<Finding> judge(Shop shop, Floor device, Floor dashboard, long seed) {
    Judge below = new Judge(shop, device);
    Judge above = new Judge(shop, dashboard);
    Map<String, LeaveLevels> told = new HashMap<>();
    try (var moments = shop.moments(seed)) {
      for (Iterator<Moment> all = moments.iterator(); all.hasNext(); ) {
        Moment moment = all.next();
        below.take(moment);
        above.take(moment);
        for (Sensor sensor : shop.sensors()) {
          dashboard
              .learned(sensor.device())
              .filter(levels -> !levels.equals(told.put(sensor.device(), levels)))
              .ifPresent(levels -> device.told(sensor.device(), levels));
        }
      }
    }
    return List.of(below.over(), above.over());
  }

  private Finding over() {
    dangerOver();
    falseLeaves += doubted.size();
    return finding();
  }

  private void take(Moment moment) {
    Instant now = START.plus(moment.at());
    truth.plus(moment);
    floor.take(now, moment);
    see(now);
    List<Floor.Standing> standing = floor.standing();
    AirCall call =
        standing.stream()
            .map(Floor.Standing::call)
            .max(Comparator.naturalOrder())
            .orElse(AirCall.OK);
    judgeDoubted(now);
    raised(now, standing);
    airing(now, call);
    danger(now, call, standing);
    moments++;
    unknownMoments += call == AirCall.UNKNOWN ? 1 : 0;
    length = moment.at();
    before = call;
  }

  private void judgeDoubted(Instant now) {
    if (truth.mostTimesLimit() >= TRUE_FROM) {
      doubted.clear();
    }
    while (!doubted.isEmpty() && !now.isBefore(doubted.getFirst())) {
      doubted.removeFirst();
      falseLeaves++;
    }
  }

  /** Somebody comes and acknowledges. */
  private void see(Instant now) {
    for (Floor.Standing one : floor.standing()) {
      Instant due = toSee.get(one.device());
      if (one.call() == AirCall.LEAVE && due != null && !now.isBefore(due)) {
        floor.acknowledge(now, one);
        toSee.remove(one.device());
      }
    }
  }

  private void raised(Instant now, List<Floor.Standing> standing) {
    for (Floor.Standing one : standing) {
      boolean fresh =
          one.call() == AirCall.LEAVE
              && one.sound() != AirWarning.Sound.SILENT
              && !Long.valueOf(one.id()).equals(heard.put(one.device(), one.id()));
      if (fresh) {
        leaves++;
        toSee.put(one.device(), now.plus(SEEN_AFTER));
        if (truth.mostTimesLimit() < TRUE_FROM) {
          doubted.add(now.plus(JUDGED_AFTER));
        }
        leavesUnannounced += before == AirCall.OK ? 1 : 0;
      }
    }
  }

  private void airing(Instant now, AirCall call) {
    boolean loud = call == AirCall.VENTILATE || call == AirCall.LEAVE;
    airedSince = loud ? Optional.of(airedSince.orElse(now)) : Optional.empty();
    if (airingDue.isEmpty() && truth.quarterTimesLimit() >= 1) {
      airingDue = Optional.of(now);
    }
    if (airingDue.isPresent() && airingDelay.isEmpty() && loud) {
      airingDelay =
          OptionalLong.of(Duration.between(airingDue.get(), airedSince.orElse(now)).toSeconds());
    }
  }

  /**
   * Whether all sensors where the work is tell that they cannot tell. The room's worst call does
   * not say so: a sensor beyond the door that calls to ventilate outranks it and hides it not.
   */
  private boolean unknownAtTheWork(List<Floor.Standing> standing) {
    return shop.sensors().stream()
        .filter(sensor -> !sensor.houseSide())
        .allMatch(
            sensor ->
                standing.stream()
                    .anyMatch(
                        one ->
                            one.device().equals(sensor.device()) && one.call() == AirCall.UNKNOWN));
  }

  private void danger(Instant now, AirCall call, List<Floor.Standing> standing) {
    leftSince = call == AirCall.LEAVE ? Optional.of(leftSince.orElse(now)) : Optional.empty();
    if (truth.minutePpm() < dangerPpm) {
      dangerOver();
      return;
    }
    Instant since = dangerSince.orElse(now);
    dangerSince = Optional.of(since);
    if (leaveAtDanger.isEmpty() && leftSince.isPresent()) {
      leaveAtDanger = leftSince;
    }
    if (!counted && Duration.between(since, now).compareTo(SHORTEST) >= 0) {
      counted = true;
      unknownAtDanger = unknownAtTheWork(standing);
      dangers++;
    }
  }

  private void dangerOver() {
    if (counted) {
      Instant since = dangerSince.orElseThrow();
      Optional<Long> late = leaveAtDanger.map(at -> Duration.between(since, at).toSeconds());
      if (late.filter(delay -> delay <= LATEST.toSeconds()).isEmpty()) {
        missed += unknownAtDanger ? 0 : 1;
        unknown += unknownAtDanger ? 1 : 0;
      }
      if (late.isPresent()) {
        leaveDelay = OptionalLong.of(Math.max(late.get(), leaveDelay.orElse(Long.MIN_VALUE)));
      }
    }
    dangerSince = Optional.empty();
    leaveAtDanger = Optional.empty();
    counted = false;
  }

  private Finding finding() {
    return new Finding(
        shop.scenario(),
        shop.sensitivity(),
        floor.name(),
        canTell,
        dangers,
        missed,
        unknown,
        leaveDelay,
        airingDue.isPresent(),
        airingDelay,
        leaves,
        falseLeaves,
        leavesUnannounced,
        moments == 0 ? 0 : 100.0 * unknownMoments / moments,
        length);
  }
}
