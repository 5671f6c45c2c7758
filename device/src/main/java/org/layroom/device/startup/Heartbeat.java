package org.layroom.device.startup;

import java.time.Duration;
import java.util.function.Consumer;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.supervision.Supervision;

/**
 * Tells that the work goes on as long as samples keep coming, and falls silent when they stop: then
 * systemd starts the device anew. A sample of nothing but faults counts, since it is work done.
 */
final class Heartbeat implements Consumer<Sample> {
  private static final Duration GRACE = Duration.ofMinutes(1);
  private static final int MISSED = 3;

  private final Pace pace;
  private final Supervision supervision;
  private final Duration patience;
  private volatile Duration last;

  /**
   * A heartbeat that counts its start as a sample.
   *
   * @param pace real time
   * @param samplePeriod in real time
   */
  Heartbeat(Pace pace, Supervision supervision, Duration samplePeriod) {
    this.pace = pace;
    this.supervision = supervision;
    patience = samplePeriod.multipliedBy(MISSED).plus(GRACE);
    last = pace.uptime();
  }

  /** Begins to tell, if anybody listens. */
  void start() {
    supervision.ready();
    supervision.rhythm().ifPresent(rhythm -> pace.every(rhythm, this::beat));
  }

  private void beat() {
    if (pace.uptime().minus(last).compareTo(patience) <= 0) {
      supervision.alive();
    }
  }

  @Override
  public void accept(Sample sampled) {
    last = pace.uptime();
  }
}
