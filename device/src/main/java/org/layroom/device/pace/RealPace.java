package org.layroom.device.pace;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Optional;

/** The computer's own clocks. What a device in a shop runs on, and every transport timer. */
public final class RealPace implements Pace {
  /** Present where systemd keeps the time; holds {@link #SYNCHRONIZED} once the network set it. */
  private static final Path TIMESYNC = Path.of("/run/systemd/timesync");

  private static final String SYNCHRONIZED = "synchronized";

  /** A clock that shows an earlier year has never been set since this program was written. */
  private static final int EARLIEST_BELIEVABLE_YEAR = 2026;

  private final long startNanos;
  private final Path timesync;
  private final TaskThread tasks;

  /** A pace with one daemon thread of its own. */
  public RealPace() {
    this(TIMESYNC);
  }

  RealPace(Path timesync) {
    this(System.nanoTime(), timesync, "layroom-real-pace");
  }

  private RealPace(long startNanos, Path timesync, String thread) {
    this.startNanos = startNanos;
    this.timesync = timesync;
    this.tasks = new TaskThread(thread);
  }

  /**
   * The same clocks with a thread of its own, for what must not wait behind a slow bus.
   *
   * @param thread its name
   */
  public RealPace withThread(String thread) {
    return new RealPace(startNanos, timesync, thread);
  }

  @Override
  public Instant now() {
    return Instant.now();
  }

  /**
   * Where systemd-timesyncd runs, its word counts; elsewhere a clock that shows 2026 or later is
   * believed.
   */
  @Override
  public boolean wallClockSet() {
    if (Files.isDirectory(timesync)) {
      return Files.exists(timesync.resolve(SYNCHRONIZED));
    }
    return now().atZone(ZoneOffset.UTC).getYear() >= EARLIEST_BELIEVABLE_YEAR;
  }

  /** Whether and how long ago the network set the clock, for the person in the shop. */
  public String clockWords() {
    if (!wallClockSet()) {
      return "note   the clock is not set: until the network sets it, readings are sent by their age";
    }
    return wallClockSetAt()
        .map(set -> Math.max(0, Duration.between(set, now()).toMinutes()))
        .map(
            minutes ->
                "note   the clock was set by the network "
                    + (minutes < 120 ? minutes + " min ago" : minutes / 60 + " h ago"))
        .orElse("note   nobody can tell when the clock was set");
  }

  @Override
  public Optional<Instant> wallClockSetAt() {
    try {
      return wallClockSet()
          ? Optional.of(Files.getLastModifiedTime(timesync.resolve(SYNCHRONIZED)).toInstant())
          : Optional.empty();
    } catch (IOException e) {
      return Optional.empty();
    }
  }

  @Override
  public Duration uptime() {
    return Duration.ofNanos(System.nanoTime() - startNanos);
  }

  @Override
  public Scheduled every(Duration period, Runnable task) {
    return tasks.every(Periods.checked(period).toNanos(), task);
  }

  @Override
  public Scheduled after(Duration delay, Runnable task) {
    return tasks.after(Math.max(0, delay.toNanos()), task);
  }

  @Override
  public void pause(Duration duration) throws InterruptedException {
    TaskThread.sleep(duration.toNanos());
  }

  @Override
  public void close() {
    tasks.close();
  }
}
