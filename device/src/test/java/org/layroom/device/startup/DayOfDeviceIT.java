package org.layroom.device.startup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.testing.Mosquitto;
import org.layroom.device.testing.StandInDashboard;

/**
 * A benchmark: the shipped jar through more than a simulated day, at the usual ten seconds a sample
 * and with Java's settings as installed. Tells what it keeps in memory and what it writes to disk.
 * All bounds are this project's own aims.
 */
@Tag("bench")
class DayOfDeviceIT {
  private static final double SPEED = 500;
  private static final int SAMPLES_A_DAY = 8640;

  /** Nine hours: the eight-hour average of the vapor watch holds all it ever will. */
  private static final int SETTLED = SAMPLES_A_DAY * 9 / 24;

  private static final int LOOKS = 8;

  /** Flash cards wear out by erasing blocks; what the system counts as written, MB a day. */
  private static final double MOST_MEGABYTES_A_DAY = 60;

  private static final double MEGABYTE = 1e6;
  private static final Pattern TOTAL = Pattern.compile("Total\\s+\\d+\\s+(\\d+)");

  @Test
  @Timeout(1200)
  void aDayCostsLittleDiskAndNoMemory() throws Exception {
    Path folder = Files.createTempDirectory(Path.of("target"), "day-of-device");
    Channel channel = Channel.of("shop", "bench");
    try (Mosquitto broker = Mosquitto.start(Files.createDirectory(folder.resolve("broker")));
        StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), channel)) {
      Path settings =
          Files.writeString(
              folder.resolve("device.properties"),
              "broker.uri=%s\ndata=%s\nspeed=%s\n"
                  .formatted(broker.uri(), folder.resolve("data").toAbsolutePath(), SPEED));
      Process device = launch(settings);
      try {
        observe(device, dashboard);
      } finally {
        device.destroyForcibly();
        device.waitFor();
      }
    } finally {
      remove(folder);
    }
  }

  private static void observe(Process device, StandInDashboard dashboard) throws Exception {
    awaitStored(dashboard, SETTLED);
    long liveEarly = leastLive(device, dashboard);
    long writtenEarly = written(device);
    long samplesEarly = dashboard.samples().lastKey();
    awaitStored(dashboard, samplesEarly + SAMPLES_A_DAY);
    long samples = dashboard.samples().lastKey() - samplesEarly;
    double megabytesADay =
        (written(device) - writtenEarly) / MEGABYTE * SAMPLES_A_DAY / (double) samples;
    long live = leastLive(device, dashboard);
    System.out.printf(
        "DayOfDeviceIT: %.1f MB written to disk a day (%d samples of 10 s); live objects %.2f MB"
            + " after 11 h, %.2f MB after 35 h; %s; %s%n",
        megabytesADay,
        samples,
        liveEarly / MEGABYTE,
        live / MEGABYTE,
        status(device, "VmHWM"),
        status(device, "VmRSS"));
    assertEquals(dashboard.samples().size(), dashboard.samples().lastKey(), "no number is missing");
    assertTrue(megabytesADay < MOST_MEGABYTES_A_DAY, megabytesADay + " MB a day");
    assertTrue(live - liveEarly < 100_000, live - liveEarly + " bytes more after a day");
  }

  private static Process launch(Path settings) throws IOException {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(
        List.of("-XX:+UseSerialGC", "-Xmx32m", "-Xss512k", "-XX:TieredStopAtLevel=1", "-jar"));
    command.addAll(List.of("target/layroom-device.jar", "--simulate", "--config"));
    command.add(settings.toString());
    return new ProcessBuilder(command)
        .redirectOutput(ProcessBuilder.Redirect.DISCARD)
        .redirectError(ProcessBuilder.Redirect.DISCARD)
        .start();
  }

  private static void awaitStored(StandInDashboard dashboard, long samples) throws Exception {
    assertTrue(
        dashboard.await(
            Duration.ofMinutes(10),
            () -> !dashboard.samples().isEmpty() && dashboard.samples().lastKey() >= samples),
        "samples kept coming");
  }

  /** The least of several looks: each also counts what is just under way. */
  private static long leastLive(Process device, StandInDashboard dashboard) throws Exception {
    long least = Long.MAX_VALUE;
    for (int look = 0; look < LOOKS; look++) {
      awaitStored(dashboard, dashboard.samples().lastKey() + SAMPLES_A_DAY / 96);
      least = Math.min(least, liveBytes(device));
    }
    return least;
  }

  /** What a full collection leaves, as {@code jcmd GC.class_histogram} counts it. */
  private static long liveBytes(Process device) throws IOException {
    Process jcmd =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "jcmd").toString(),
                String.valueOf(device.pid()),
                "GC.class_histogram")
            .redirectErrorStream(true)
            .start();
    String said = new String(jcmd.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    Matcher total = TOTAL.matcher(said);
    assertTrue(total.find(), said);
    return Long.parseLong(total.group(1));
  }

  /** What the kernel has sent to the disk for this program, bytes. */
  private static long written(Process device) throws IOException {
    return Files.readAllLines(Path.of("/proc", String.valueOf(device.pid()), "io")).stream()
        .filter(line -> line.startsWith("write_bytes"))
        .mapToLong(line -> Long.parseLong(line.replaceAll("\\D", "")))
        .sum();
  }

  private static String status(Process device, String field) throws IOException {
    return Files.readAllLines(Path.of("/proc", String.valueOf(device.pid()), "status")).stream()
        .filter(line -> line.startsWith(field))
        .map(line -> line.replaceAll("\\s+", " "))
        .findFirst()
        .orElse(field + " unknown");
  }

  private static void remove(Path folder) throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      for (Path one : all.sorted((a, b) -> b.compareTo(a)).toList()) {
        Files.deleteIfExists(one);
      }
    }
  }
}
