package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.LongStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.store.DaySummary;
import org.layroom.dashboard.testing.HandPace;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Series;

/** Clocks that jump, at either end, and days that are not as long as others. */
@ExtendWith(Campaign.class)
class ClockFaultsIT {
  private static final Duration PATIENCE = Duration.ofSeconds(90);
  private static final Duration TOLERANCE = Duration.ofMinutes(2);
  private static final Duration FAR = Duration.ofDays(40_000);

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  private final RealTime transport = new RealTime();

  @AfterEach
  void stopTime() {
    transport.close();
  }

  private DashboardCore dashboard(HandPace clock) {
    return DashboardCore.start(CoreSettings.embedded(folder.resolve("data"), 0), clock, transport);
  }

  private static OutboxDevice device(DashboardCore core) {
    return Paired.with(core.logins()).sending(core::brokerUri);
  }

  private static void measure(DashboardCore core, OutboxDevice device, Instant time) {
    long sequence = device.measure(time, 20);
    Until.stored(PATIENCE, "reading " + sequence, core, () -> device.mark() == sequence);
  }

  /** The kept times by sequence number. */
  private static Map<Long, Instant> times(DashboardCore core) {
    Map<Long, Instant> times = new TreeMap<>();
    core.store()
        .archive()
        .export(
            Ledger.CHANNEL.room(),
            Instant.EPOCH.minus(FAR),
            Instant.EPOCH.plus(FAR),
            sample ->
                times.put(
                    sample.position().map(OutboxPosition::sequence).orElse(0L),
                    sample.times().corrected()));
    return times;
  }

  @Test
  @Fault(
      value = "clock of the device back and forward: an hour, a day, 400 days, 1990, 1970",
      promised =
          "every reading stored once, under its true time within 2 min (back by no more than the"
              + " dashboard has been linked, or by years)")
  void theDevicesClockJumps(Witness witness) {
    HandPace clock = new HandPace(Instant.parse("2026-03-02T18:00:00Z"));
    List<Instant> truly = new ArrayList<>();
    List<Duration> jumps =
        List.of(
            Duration.ZERO,
            Duration.ofHours(-1),
            Duration.ofDays(1),
            Duration.ofDays(-1),
            Duration.ofDays(400),
            Duration.between(clock.now(), Instant.EPOCH),
            Duration.between(clock.now(), Instant.parse("1990-01-01T00:00:00Z")),
            Duration.ZERO);
    try (DashboardCore core = dashboard(clock);
        OutboxDevice device = device(core)) {
      Until.within(PATIENCE, "linked", () -> core.link().connected());
      clock.pass(Duration.ofDays(2));
      for (Duration jump : jumps) {
        for (int i = 0; i < witness.times(5, 100); i++) {
          clock.pass(Duration.ofSeconds(10));
          truly.add(clock.now());
          measure(core, device, clock.now().plus(jump));
        }
      }
      Map<Long, Instant> kept = times(core);
      assertEquals(
          LongStream.rangeClosed(1, truly.size()).boxed().toList(), List.copyOf(kept.keySet()));
      long most = 0;
      for (int i = 0; i < truly.size(); i++) {
        Duration off = Duration.between(truly.get(i), kept.getOrDefault(i + 1L, Instant.MIN)).abs();
        assertTrue(off.compareTo(TOLERANCE) <= 0, "reading " + (i + 1) + " is off by " + off);
        most = Math.max(most, off.toMillis());
      }
      witness.saw("%d jumps, %d readings, %d ms off at most", jumps.size(), truly.size(), most);
    }
  }

  @Test
  @Fault(
      value = "clock of the dashboard back an hour and forward a day while readings come in",
      promised = "every reading stored once")
  void theDashboardsClockJumps(Witness witness) {
    Instant begun = Instant.parse("2026-03-02T18:00:00Z");
    HandPace clock = new HandPace(begun);
    try (DashboardCore core = dashboard(clock);
        OutboxDevice device = device(core)) {
      int readings = 0;
      for (Duration jump : List.of(Duration.ZERO, Duration.ofHours(-1), Duration.ofDays(1))) {
        clock.setWallClock(begun.plus(jump));
        for (int i = 0; i < witness.times(5, 100); i++) {
          clock.pass(Duration.ofSeconds(10));
          readings++;
          measure(core, device, begun.plusSeconds(10L * readings));
        }
      }
      Map<Long, Instant> kept = times(core);
      assertEquals(
          LongStream.rangeClosed(1, readings).boxed().toList(), List.copyOf(kept.keySet()));
      assertEquals(readings, core.counts().samples());
      witness.saw("%d readings", readings);
    }
  }

  @Test
  @Fault(
      value = "the nights on which the clocks are set, and a leap day (a reading every half hour)",
      promised = "days of 23, 24 and 25 hours with every reading once")
  void longAndShortDays(Witness witness) {
    ZoneId zone = ZoneId.of("Europe/Berlin");
    Map<LocalDate, Integer> hours =
        new TreeMap<>(
            Map.of(
                LocalDate.of(2026, 10, 25), 25,
                LocalDate.of(2027, 3, 28), 23,
                LocalDate.of(2028, 2, 29), 24));
    for (Map.Entry<LocalDate, Integer> day : hours.entrySet()) {
      oneDay(day.getKey(), zone, 2 * day.getValue());
      witness.saw("%s: %d readings", day.getKey(), 2 * day.getValue());
    }
  }

  /** The day before, the day and the day after on the path, each reading as it is measured. */
  private void oneDay(LocalDate day, ZoneId zone, int expected) {
    Instant end = day.plusDays(1).atStartOfDay(zone).plusHours(1).toInstant();
    HandPace clock = new HandPace(day.atStartOfDay(zone).minusHours(1).toInstant());
    CoreSettings settings = CoreSettings.embedded(folder.resolve("" + day), 0);
    try (DashboardCore core = DashboardCore.start(settings, clock, transport);
        OutboxDevice device = device(core)) {
      while (clock.now().isBefore(end)) {
        measure(core, device, clock.now());
        clock.pass(Duration.ofMinutes(30));
      }
      List<DaySummary> days =
          core.store().history().daily(Ledger.CHANNEL.room(), Series.TEMPERATURE, zone);
      assertEquals(
          List.of((long) expected),
          days.stream().filter(one -> one.day().equals(day)).map(DaySummary::n).toList());
    }
  }
}
