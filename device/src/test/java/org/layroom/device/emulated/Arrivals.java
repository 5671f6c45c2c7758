package org.layroom.device.emulated;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.BooleanSupplier;
import java.util.function.Predicate;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.DeviceMessage.Sample;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.SampleTime;
import org.layroom.device.testing.StandInDashboard;

/**
 * What has come from the emulated Pi to the dashboard's end of the line, waited for and looked at.
 *
 * <p>The figures expected: SHT4x data sheet section 4.6, worked out by hand: word 0x6666 is 0.4 of
 * full scale, so -45 + 175 x 0.4 = 25 degC; 0x8000 is 56.501 %; 0x6C00 is 28.829 degC; 0x9000 is
 * 64.314 %. DS18B20 data sheet, table of temperatures: 0x0191 is 25.0625, 0x00A2 is 10.125, 0x0140
 * is 20, 0xFF5E is -10.125, 0x0550 is 85 degC; the kernel cuts off after three decimals. BMP280
 * data sheet section 3.12, whose formulas the BME280 shares: 25.08 degC and 100653.27 Pa. The
 * BME280's humidity of 45.25 % is worked out outside this project with the integer code of its
 * sheet's section 4.2.3 (from memory).
 */
final class Arrivals {
  private static final Duration SOON = Duration.ofSeconds(90);

  /** Every figure that the chips are told to show in this test; any other would be made up. */
  private static final Map<String, Set<Double>> SHOWN =
      Map.of(
          "temperature", Set.of(25.0, 28.829, 25.082),
          "mold-temperature/infrared", Set.of(28.01),
          "pid-voltage", Set.of(1.0),
          "humidity", Set.of(56.501, 64.314, 45.249),
          "pressure", Set.of(100_653.27),
          "mold-temperature", Set.of(25.0625, -10.125, 10.125, 20.0),
          "resin-temperature", Set.of(10.125, 20.0),
          "voc-raw", Set.of(30_000.0, 29_000.0, 26_520.0, 0.0));

  private final PiBench bench;
  private final StandInDashboard dashboard;

  Arrivals(PiBench bench) {
    this.bench = bench;
    dashboard = bench.dashboard();
  }

  List<Reading> readings(Sample sample, String name) {
    return sample.readings().stream().filter(r -> r.name().equals(name)).toList();
  }

  /** Waits until a sample from now on has such a reading; says what came when none does. */
  Sample awaitReading(String name, Predicate<Reading> wanted) throws Exception {
    long seen = dashboard.samples().isEmpty() ? 0 : dashboard.samples().lastKey();
    boolean came =
        dashboard.await(
            SOON,
            () ->
                dashboard.samples().tailMap(seen, false).values().stream()
                    .anyMatch(s -> readings(s, name).stream().anyMatch(wanted)));
    assertTrue(came, () -> name + " as wanted did not come; last " + lastWords());
    return dashboard.samples().tailMap(seen, false).values().stream()
        .filter(s -> readings(s, name).stream().anyMatch(wanted))
        .findFirst()
        .orElseThrow();
  }

  private String lastWords() {
    return dashboard.samples().lastEntry() + "\n" + bench.log();
  }

  static Predicate<Reading> good(double value, double within) {
    return r -> r.quality().isGood() && near(r, value, within);
  }

  private static boolean near(Reading reading, double value, double within) {
    return reading.value().isPresent() && Math.abs(reading.value().getAsDouble() - value) <= within;
  }

  static Predicate<Reading> fault(String reason) {
    return r ->
        r.value().isEmpty()
            && r.quality() instanceof Quality.Fault fault
            && fault.reason().contains(reason);
  }

  static Predicate<Reading> suspect(double value, double within, String reason) {
    return r ->
        near(r, value, within)
            && r.quality() instanceof Quality.Suspect suspect
            && suspect.reason().contains(reason);
  }

  void awaitStatus(Predicate<DeviceStatus> wanted) throws InterruptedException {
    assertTrue(
        dashboard.await(SOON, () -> !dashboard.statuses().isEmpty() && wanted.test(lastStatus())),
        () -> "last status " + lastStatus());
  }

  /** Waits until the newest that the device says of its alarm is such. */
  void awaitAlarm(Predicate<AlarmState> wanted) throws InterruptedException {
    assertTrue(
        dashboard.await(SOON, () -> !dashboard.alarms().isEmpty() && wanted.test(lastAlarm())),
        () -> "last alarm " + (dashboard.alarms().isEmpty() ? "none" : lastAlarm()));
  }

  private AlarmState lastAlarm() {
    List<AlarmState> all = dashboard.alarms();
    return all.get(all.size() - 1);
  }

  DeviceStatus lastStatus() {
    List<DeviceStatus> all = dashboard.statuses();
    return all.get(all.size() - 1);
  }

  static Predicate<DeviceStatus> tellsOf(String part, String reason) {
    return s ->
        s.online()
            && s.faults().stream()
                .anyMatch(f -> f.part().contains(part) && f.reason().contains(reason));
  }

  /** Everything works as at first. */
  void awaitAllWell() throws Exception {
    awaitReading("temperature", good(25.0, 0.001));
    awaitReading("mold-temperature", good(25.0625, 0.001));
    awaitStatus(s -> s.online() && s.faults().isEmpty());
    nothingLostNothingMadeUp();
  }

  void nothingLostNothingMadeUp() {
    assertEquals(List.of(), dashboard.refused());
    assertEquals(dashboard.samples().size(), dashboard.samples().lastKey(), "no number is missing");
    for (Sample sample : dashboard.samples().values()) {
      for (Map.Entry<String, Set<Double>> shown : SHOWN.entrySet()) {
        List<Reading> found = readings(sample, shown.getKey());
        assertTrue(found.size() <= 1, () -> "twice in one sample: " + found);
        for (Reading reading : found) {
          assertTrue(
              reading.value().isEmpty()
                  || shown.getValue().stream().anyMatch(v -> near(reading, v, 0.01)),
              () -> "no chip showed this: " + reading);
        }
      }
    }
  }

  /** The newest sequence number by now. */
  long last() {
    return dashboard.samples().isEmpty() ? 0 : dashboard.samples().lastKey();
  }

  /** Waits until this holds; says what came last when it never does. */
  void await(BooleanSupplier condition) throws InterruptedException {
    assertTrue(dashboard.await(SOON, condition), this::lastWords);
  }

  /** Waits until no number between the first and the last is missing. */
  void awaitNoGap() throws InterruptedException {
    await(() -> dashboard.samples().lastKey() == dashboard.samples().size());
  }

  /** Waits for so many samples after a number that were taken within two minutes of a time. */
  void awaitSamplesAt(Instant time, long after, int many) throws InterruptedException {
    await(
        () ->
            dashboard.samples().tailMap(after, false).values().stream()
                    .filter(sample -> near(sample, time))
                    .count()
                >= many);
  }

  private static boolean near(Sample sample, Instant time) {
    return sample.time() instanceof SampleTime.At at
        && Duration.between(time, at.instant()).abs().toMinutes() < 2;
  }
}
