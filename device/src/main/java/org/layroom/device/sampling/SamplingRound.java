package org.layroom.device.sampling;

import java.time.Duration;
import java.util.Optional;

/**
 * One round through all sensors: its moment, and the air that the first sensors found for the
 * later.
 */
public final class SamplingRound {
  private final Duration uptime;
  private Optional<Air> air = Optional.empty();
  private Optional<Air> beside = Optional.empty();

  SamplingRound(Duration uptime) {
    this.uptime = uptime;
  }

  /** The device's running time at the start of the round. */
  public Duration uptime() {
    return uptime;
  }

  /** The air as measured in this round; empty when no air sensor gave a value to believe. */
  public Optional<Air> air() {
    return air;
  }

  /** Keeps the first air that is found. */
  void found(double temperatureC, double humidityPct) {
    if (air.isEmpty()) {
      air = Optional.of(new Air(temperatureC, humidityPct));
    }
  }

  /** What a second air sensor says, which nobody goes by but for comparing. */
  Optional<Air> beside() {
    return beside;
  }

  /** Keeps what a second air sensor says. */
  void foundBeside(double temperatureC, double humidityPct) {
    beside = Optional.of(new Air(temperatureC, humidityPct));
  }

  /** Temperature and relative humidity of the air. */
  public record Air(double temperatureC, double humidityPct) {}
}
