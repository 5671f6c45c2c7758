package org.layroom.predictor.vapor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.layroom.predictor.exposure.ExposureLimit;

/** Whatever happens in whatever order, some things are never said. */
class VaporWatchFuzzTest {
  private static final Instant START = Instant.parse("2026-03-02T08:00:00Z");
  private static final int STEPS = 400;

  private static WatchSettings settings(Random random) {
    VaporSensor sensor =
        switch (random.nextInt(4)) {
          case 0 -> VaporSensor.Chip.fresh();
          case 1 -> new VaporSensor.Pid(ExposureLimit.untilChosen(), 0.45);
          default ->
              VaporSensor.Chip.with(
                  CleanAirReading.of(30_000, START.minus(Duration.ofDays(random.nextInt(32)))));
        };
    return random.nextBoolean() ? WatchSettings.workRoom(sensor) : WatchSettings.houseSide(sensor);
  }

  /** Mostly readings ten seconds apart, near the last one; now and then anything else. */
  private static AirEvent event(Random random, Instant time, double[] near, long id) {
    if (random.nextInt(20) == 0) {
      near[0] = random.nextInt(3) == 0 ? 0 : 18_000 + random.nextInt(13_000);
    }
    double ticks = Math.max(0, near[0] + random.nextInt(21) - 10);
    return switch (random.nextInt(60)) {
      case 0 -> new AirEvent.Failed(time, "no answer");
      case 1 -> new AirEvent.PoweredOn(time);
      case 2 ->
          new AirEvent.JobStarted(
              time, time.plusSeconds(1 + random.nextInt(7200)), "Kim", true, random.nextBoolean());
      case 3 -> new AirEvent.JobEnded(time);
      case 4 -> new AirEvent.Acknowledged(time, id + random.nextInt(2), "Kim");
      case 5 -> new AirEvent.TimePassed(time.plusSeconds(random.nextInt(4000)));
      case 6 -> new AirEvent.Ticks(time, ticks, Optional.empty());
      case 7 -> new AirEvent.TimePassed(time.minusSeconds(random.nextInt(4000)));
      default ->
          random.nextInt(3) == 0
              ? new AirEvent.Ppm(time, (30_000 - Math.min(30_000, ticks)) / 50, ticks, ticks == 0)
              : new AirEvent.Ticks(time, ticks, Optional.of(new AirEvent.Climate(20, 50)));
    };
  }

  @Property(tries = 120)
  void theInvariantsHold(@ForAll long seed) {
    Random random = new Random(seed);
    VaporWatch watch = VaporWatch.started(settings(random), START);
    double[] near = {30_000};
    Instant time = START;
    Optional<Instant> newestReading = Optional.empty();
    for (int i = 0; i < STEPS; i++) {
      time = time.plusSeconds(random.nextInt(15) == 0 ? random.nextInt(600) : 20);
      long id = watch.warning().map(AirWarning::id).orElse(0L);
      AirEvent event = event(random, time, near, id);
      VaporWatch next = watch.plus(event);
      boolean reading = event instanceof AirEvent.Ticks || event instanceof AirEvent.Ppm;
      newestReading = reading ? Optional.of(time) : newestReading;
      leaveStaysUntilAcknowledged(watch, next, event);
      unknownIsNeverTurnedIntoOkByNothing(watch, next, event);
      okNeedsFreshReadings(next, newestReading);
      aWarningIsRaisedOnceAndCountsUp(watch, next);
      theWordsAreThoseOfTheSensor(next);
      watch = next;
      time = watch.now().isAfter(time) ? watch.now() : time;
    }
  }

  private static void leaveStaysUntilAcknowledged(
      VaporWatch before, VaporWatch after, AirEvent event) {
    boolean unseen =
        before
            .warning()
            .filter(one -> one.call() == AirCall.LEAVE && one.acknowledged().isEmpty())
            .isPresent();
    if (unseen && !(event instanceof AirEvent.Acknowledged)) {
      assertEquals(AirCall.LEAVE, after.call());
      assertEquals(before.warning().orElseThrow().id(), after.warning().orElseThrow().id());
    }
  }

  private static void unknownIsNeverTurnedIntoOkByNothing(
      VaporWatch before, VaporWatch after, AirEvent event) {
    if (before.call() == AirCall.UNKNOWN && after.call() == AirCall.OK) {
      assertTrue(event instanceof AirEvent.Ticks || event instanceof AirEvent.Ppm, event::toString);
    }
  }

  private static void okNeedsFreshReadings(VaporWatch watch, Optional<Instant> newestReading) {
    if (watch.call() == AirCall.OK) {
      Duration age = Duration.between(newestReading.orElseThrow(), watch.now());
      assertTrue(age.compareTo(Duration.ofSeconds(30)) <= 0, age::toString);
      assertTrue(watch.quarterHour().isPresent());
    }
  }

  private static void aWarningIsRaisedOnceAndCountsUp(VaporWatch before, VaporWatch after) {
    long last = before.warning().map(AirWarning::id).orElse(0L);
    after.raised().ifPresent(raised -> assertTrue(raised.id() > last));
    if (after.raised().isEmpty() && after.warning().isPresent()) {
      assertEquals(last, after.warning().get().id());
    }
    assertEquals(after.call() == AirCall.OK, after.warning().isEmpty());
  }

  private static void theWordsAreThoseOfTheSensor(VaporWatch watch) {
    StringBuilder all = new StringBuilder(String.join(" ", watch.words()));
    watch.warning().ifPresent(one -> all.append(one.whatToDo()).append(one.endsWhen()));
    String words = all.toString().toLowerCase(Locale.ROOT);
    assertFalse(words.contains("safe"), words);
    if (watch.settings().sensor() instanceof VaporSensor.Chip) {
      for (String never : List.of("ppm", "limit", "twa", "eight-hour", "as styrene")) {
        assertFalse(words.contains(never), words);
      }
    } else {
      assertFalse(words.contains("times clean air"), words);
    }
  }
}
