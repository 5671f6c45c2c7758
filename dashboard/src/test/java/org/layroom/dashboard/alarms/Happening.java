package org.layroom.dashboard.alarms;

import java.time.Duration;
import java.util.Optional;
import java.util.OptionalDouble;

/** What happens in a shop. Who acknowledges a warning, and when, is the judge's business. */
public sealed interface Happening {
  /**
   * A chip was read.
   *
   * @param ticks 0 to 65535; lower means more vapor
   * @param temperatureC what the air sensor beside it reads; empty when it does not answer
   * @param humidityPct the same
   * @param doubt why the driver doubts the reading, such as {@code settling}; usually empty
   */
  record ChipRead(
      String device,
      double ticks,
      OptionalDouble temperatureC,
      OptionalDouble humidityPct,
      Optional<String> doubt)
      implements Happening {}

  /**
   * A detector was read.
   *
   * @param isobutylenePpm as it reads
   * @param volts its raw signal
   * @param atEnd at the upper end of its range
   */
  record PidRead(String device, double isobutylenePpm, double volts, boolean atEnd)
      implements Happening {}

  /** A read that failed: no value, with the reason. A sensor that is silent has no happening. */
  record ReadFailed(String device, String reason) implements Happening {}

  /** The device's program starts again; its sensor's own readings say what that does to them. */
  record DeviceRestarted(String device) implements Happening {}

  /** The dashboard starts again. */
  record DashboardRestarted() implements Happening {}

  /** Somebody starts a job and says what is on: true or not. */
  record JobStarted(Duration atMost, boolean fanOn, boolean respiratorOn) implements Happening {}

  /** The job is over. */
  record JobEnded() implements Happening {}

  /** A clean-air reading was taken on purpose. */
  record CleanAirTaken(String device, double ticks) implements Happening {}

  /** Somebody taps "Wiping with solvent". */
  record Wiping() implements Happening {}
}
