package org.layroom.dashboard.ingest;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.SampleTime;

/** Which time a sample is kept under when the device's clock is right, fast, slow or not set. */
class SampleClockTest {
  private static final Instant RECEIVED = Instant.parse("2026-11-02T10:00:00Z");
  private static final Optional<Instant> LINKED_SINCE_MORNING =
      Optional.of(Instant.parse("2026-11-02T07:00:00Z"));

  private static DeviceMessage.Sample sample(SampleTime time, double taken, double sent) {
    return new DeviceMessage.Sample(
        time, Optional.empty(), OptionalDouble.of(taken), OptionalDouble.of(sent), List.of());
  }

  private static DeviceMessage.Sample at(String time, double taken, double sent) {
    return sample(new SampleTime.At(Instant.parse(time)), taken, sent);
  }

  private static Instant corrected(DeviceMessage.Sample sample, Optional<Instant> linkedSince) {
    return SampleClock.times(sample, RECEIVED, linkedSince).corrected();
  }

  @Test
  void aRightClockIsLeftAlone() {
    assertEquals(
        Instant.parse("2026-11-02T09:59:58Z"),
        corrected(at("2026-11-02T09:59:58Z", 100, 101), LINKED_SINCE_MORNING));
  }

  @Test
  void aClockLessThanTwoMinutesFastIsLeftAlone() {
    assertEquals(
        Instant.parse("2026-11-02T10:01:59Z"),
        corrected(at("2026-11-02T10:01:59Z", 100, 100), LINKED_SINCE_MORNING));
  }

  @Test
  void aFastClockIsReplacedByReceivedLessTheSamplesAge() {
    SampleTimes times =
        SampleClock.times(at("2026-11-02T13:00:00Z", 100, 130), RECEIVED, Optional.empty());
    assertEquals(Instant.parse("2026-11-02T13:00:00Z"), times.original());
    assertEquals(Instant.parse("2026-11-02T09:59:30Z"), times.corrected());
    assertEquals(RECEIVED, times.received());
  }

  @Test
  void aSlowClockShowsWhenTheLinkWasUpAllTheTimeSinceTheClaimedSending() {
    assertEquals(
        Instant.parse("2026-11-02T09:59:55Z"),
        corrected(at("2026-11-02T08:00:00Z", 100, 105), LINKED_SINCE_MORNING));
  }

  @Test
  void backlogKeepsItsTimeBecauseItsAgeExplainsIt() {
    assertEquals(
        Instant.parse("2026-11-02T08:00:00Z"),
        corrected(at("2026-11-02T08:00:00Z", 100, 100 + 7200), LINKED_SINCE_MORNING));
  }

  @Test
  void aMessageThatMayHaveWaitedAtTheBrokerKeepsItsTime() {
    Optional<Instant> linkedJustNow = Optional.of(Instant.parse("2026-11-02T09:30:00Z"));
    assertEquals(
        Instant.parse("2026-11-02T08:00:00Z"),
        corrected(at("2026-11-02T08:00:00Z", 100, 100), linkedJustNow));
    assertEquals(
        Instant.parse("2026-11-02T08:00:00Z"),
        corrected(at("2026-11-02T08:00:00Z", 100, 100), Optional.empty()));
  }

  @Test
  void aClockThatIsYearsBehindIsReplacedHoweverShortTheLinkHasBeenUp() {
    assertEquals(
        Instant.parse("2026-11-02T09:59:55Z"),
        corrected(at("1990-01-01T00:00:00Z", 100, 105), Optional.empty()));
    assertEquals(
        Instant.parse("2025-11-02T00:00:00Z"),
        corrected(at("2025-11-02T00:00:00Z", 100, 105), Optional.empty()),
        "a year is no longer than raw readings are kept");
  }

  @Test
  void whoTellsNoRunningTimeMaySendReadingsOfEarlierYears() {
    DeviceMessage.Sample old =
        new DeviceMessage.Sample(
            new SampleTime.At(Instant.parse("2019-11-02T00:00:00Z")),
            Optional.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            List.of());
    assertEquals(
        Instant.parse("2019-11-02T00:00:00Z"),
        corrected(old, LINKED_SINCE_MORNING.map(one -> RECEIVED)));
  }

  @Test
  void aRelativeTimeCountsBackFromTheReceipt() {
    DeviceMessage.Sample ago = sample(new SampleTime.Ago(Duration.ofMinutes(30)), 10, 1810);
    assertEquals(Instant.parse("2026-11-02T09:30:00Z"), corrected(ago, LINKED_SINCE_MORNING));
  }

  @Test
  void aRelativeTimeInTheFutureIsAClockErrorToo() {
    DeviceMessage.Sample ahead = sample(new SampleTime.Ago(Duration.ofMinutes(-30)), 10, 10);
    assertEquals(RECEIVED, corrected(ahead, LINKED_SINCE_MORNING));
  }

  @Test
  void anAgeThatCannotBeIsTakenForNone() {
    for (double sent : new double[] {50, -1e300, 1e300, Double.MAX_VALUE}) {
      assertEquals(
          RECEIVED, corrected(at("2026-12-24T00:00:00Z", 100, sent), LINKED_SINCE_MORNING));
    }
  }

  @Test
  void aRelativeTimeOfMoreThan400DaysCannotBeKept() {
    assertTrue(
        SampleClock.objection(sample(new SampleTime.Ago(Duration.ofDays(401)), 0, 0)).isPresent());
    assertFalse(
        SampleClock.objection(sample(new SampleTime.Ago(Duration.ofDays(399)), 0, 0)).isPresent());
  }

  @Test
  void readingsOlderThanTwoMinutesAreBacklog() {
    assertFalse(
        SampleClock.backlog(new SampleTimes(RECEIVED, RECEIVED.minusSeconds(120), RECEIVED)));
    assertTrue(
        SampleClock.backlog(new SampleTimes(RECEIVED, RECEIVED.minusSeconds(121), RECEIVED)));
  }
}
