package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;

/**
 * A benchmark: what both shipped programs write to the disk in a quiet room, at a sample every ten
 * seconds and true pace, with days of readings in the store; by the kernel's counters, scaled to a
 * day. Java's flags are those of the packages. Syncs are counted by strace where it is present. The
 * bound is this project's own aim.
 */
@Tag("bench")
class CardIT {
  private static final int DAYS = Integer.getInteger("layroom.card.days", 20);
  private static final int MINUTES = Integer.getInteger("layroom.card.minutes", 60);
  private static final Channel CHANNEL = Channel.of("shop", "bench");
  private static final int BATCH = 5000;
  private static final int SAMPLE_SECONDS = 10;
  private static final double MOST_MEGABYTES_A_DAY = 60;
  private static final Duration SETTLED = Duration.ofMinutes(3);

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  private static Path jar(String name, Path usual) {
    return Path.of(System.getProperty("layroom.card." + name, usual.toString()));
  }

  @Test
  @Timeout(value = 1, unit = TimeUnit.DAYS)
  void aDayInAQuietRoom() throws Exception {
    Path data = Files.createDirectories(folder.resolve("dashboard"));
    fill(data);
    Path password =
        Files.writeString(
            folder.resolve("password"),
            DeviceLogins.of(data).pair(Channel.of("shop", "bench")) + "\n");
    Path serve =
        Files.writeString(
            folder.resolve("dashboard.properties"),
            "http.port=0\nbroker.port=0\nroom=shop\ndata=%s\n".formatted(data));
    try (ShippedJars.Running dashboard =
        ShippedJars.start(
            ShippedJars.packagedFlags(Path.of("src", "deb", "layroom")),
            jar("dashboard", ShippedJars.DASHBOARD),
            "Ready",
            folder.resolve("dashboard.log"),
            "serve",
            "--config",
            serve.toString())) {
      Path settings =
          Files.writeString(
              folder.resolve("device.properties"),
              "broker.uri=%s\nbroker.user=shop.bench\nbroker.password-file=%s\nroom=shop\ndevice=bench\nsample-seconds=%d\ndata=%s\n"
                  .formatted(
                      dashboard.after("Broker:"),
                      password,
                      SAMPLE_SECONDS,
                      folder.resolve("device")));
      try (ShippedJars.Running device =
          ShippedJars.start(
              ShippedJars.packagedFlags(Path.of("..", "device", "src", "deb", "layroom-device")),
              jar("device", ShippedJars.DEVICE),
              "layroom-device ready",
              folder.resolve("device.log"),
              "--simulate",
              "--config",
              settings.toString())) {
        double megabytes = look(dashboard.process().pid(), device.process().pid());
        assertTrue(megabytes < MOST_MEGABYTES_A_DAY, megabytes + " MB a day");
      }
    }
  }

  private double look(long dashboard, long device) throws IOException, InterruptedException {
    TimeUnit.MILLISECONDS.sleep(SETTLED.toMillis());
    Optional<Syncs> ofDashboard = Syncs.of(dashboard, folder.resolve("dashboard.syncs"));
    Optional<Syncs> ofDevice = Syncs.of(device, folder.resolve("device.syncs"));
    long dashboardBefore = written(dashboard);
    long deviceBefore = written(device);
    TimeUnit.MINUTES.sleep(MINUTES);
    double perDay = Duration.ofDays(1).toMinutes() / (double) MINUTES / 1e6;
    double byDashboard = (written(dashboard) - dashboardBefore) * perDay;
    double byDevice = (written(device) - deviceBefore) * perDay;
    System.out.printf(
        Locale.ROOT,
        "CardIT: %d minutes, %d days in the store: dashboard %.1f MB a day, %s; device %.1f MB a"
            + " day, %s; together %.1f MB a day%n",
        MINUTES,
        DAYS,
        byDashboard,
        words(ofDashboard),
        byDevice,
        words(ofDevice),
        byDashboard + byDevice);
    return byDashboard + byDevice;
  }

  private static String words(Optional<Syncs> syncs) throws IOException, InterruptedException {
    OptionalLong count = syncs.isPresent() ? syncs.get().end() : OptionalLong.empty();
    return count.isPresent()
        ? String.format(Locale.ROOT, "%.2f syncs a minute", count.getAsLong() / (double) MINUTES)
        : "syncs not counted (no strace)";
  }

  /** What the kernel has sent to the disk for a program, bytes. */
  private static long written(long pid) throws IOException {
    return Files.readAllLines(Path.of("/proc", String.valueOf(pid), "io")).stream()
        .filter(line -> line.startsWith("write_bytes"))
        .mapToLong(line -> Long.parseLong(line.replaceAll("\\D", "")))
        .sum();
  }

  /** Counts the syncs of a running program. */
  private record Syncs(Process strace, Path log) {
    static Optional<Syncs> of(long pid, Path log) {
      try {
        Process strace =
            new ProcessBuilder(
                    "strace",
                    "-f",
                    "-qq",
                    "-e",
                    "trace=fsync,fdatasync,msync,sync_file_range",
                    "-e",
                    "signal=none",
                    "-o",
                    log.toString(),
                    "-p",
                    String.valueOf(pid))
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                .start();
        return Optional.of(new Syncs(strace, log));
      } catch (IOException e) {
        return Optional.empty();
      }
    }

    /** Empty when it could not look. */
    OptionalLong end() throws IOException, InterruptedException {
      boolean looked = strace.isAlive();
      strace.destroy();
      strace.waitFor();
      if (!looked) {
        return OptionalLong.empty();
      }
      try (var lines = Files.lines(log)) {
        return OptionalLong.of(
            lines.filter(line -> line.contains("sync") && !line.contains("resumed")).count());
      }
    }
  }

  private static void fill(Path data) {
    Instant end = Instant.now();
    long samples = Duration.ofDays(DAYS).toSeconds() / SAMPLE_SECONDS;
    try (Store store = StoreFolder.open(data)) {
      List<StoreEntry> batch = new ArrayList<>();
      for (long i = 1; i <= samples; i++) {
        Instant time = end.minusSeconds(SAMPLE_SECONDS * (samples - i));
        batch.add(
            new StoreEntry.Sample(
                CHANNEL,
                Optional.of(new OutboxPosition("filled", i)),
                SampleTimes.asSaid(time, time),
                readings(i),
                List.of()));
        if (batch.size() == BATCH || i == samples) {
          store.append(batch);
          batch.clear();
        }
      }
    }
  }

  private static List<Reading> readings(long i) {
    double wave = Math.sin(i / 700.0);
    return List.of(
        Reading.of("temperature", "Cel", Math.round((19 + wave) * 100) / 100.0),
        Reading.of("humidity", "%RH", Math.round((55 + 5 * wave) * 100) / 100.0),
        Reading.of("mold-temperature", "Cel", Math.round((18 + wave) * 16) / 16.0),
        Reading.of("resin-temperature", "Cel", Math.round((18 - wave) * 16) / 16.0),
        Reading.of("voc-raw", "", (double) Math.round(30000 + 500 * wave)),
        Reading.of("voc-level", "/", Math.round((1.2 + 0.1 * wave) * 1000) / 1000.0));
  }
}
