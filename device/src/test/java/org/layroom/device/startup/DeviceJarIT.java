package org.layroom.device.startup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxOptions;
import org.layroom.device.outbox.OutboxSample;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.testing.Mosquitto;
import org.layroom.device.testing.StandInDashboard;
import org.layroom.testing.Seed;

/** The jar as it is shipped: killed in the middle of writing, and given bad settings. */
class DeviceJarIT {
  private static final Path JAR = Path.of("target", "layroom-device.jar");
  private static final int KILLS = 10;

  @TempDir Path folder;

  private static Process launch(String... arguments) throws IOException {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.add("-jar");
    command.add(JAR.toString());
    command.addAll(List.of(arguments));
    return new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.DISCARD).start();
  }

  private Path settings(String uri, int samplesASecond) throws IOException {
    return Files.writeString(
        folder.resolve("device.properties"),
        "broker.uri=" + uri + "\ndata=" + folder + "\nsample-seconds=1\nspeed=" + samplesASecond);
  }

  private static void awaitReady(Process device) throws IOException {
    BufferedReader out =
        new BufferedReader(new InputStreamReader(device.getInputStream(), StandardCharsets.UTF_8));
    String line = out.readLine();
    assertTrue(line != null && line.startsWith("layroom-device ready room=shop"), "" + line);
  }

  /** Waits until the device has written more. */
  private static void awaitGrowth(Path outbox, long beyond) throws IOException {
    while (size(outbox) <= beyond) {
      Thread.onSpinWait();
    }
  }

  @Test
  void killedTenTimesWhileWritingItLeavesNoGapAndNoNumberTwice() throws Exception {
    long seed = Seed.value();
    System.out.println("DeviceJarIT seed " + seed + " (repeat with -Dlayroom.seed=" + seed + ")");
    Random random = new Random(seed);
    Path config = settings("mqtt://127.0.0.1:9", 2000);
    Path outboxFolder = folder.resolve("outbox");
    String name = "";
    long last = 0;
    long bytes = 0;
    for (int kill = 0; kill < KILLS; kill++) {
      Process device = launch("--simulate", "--config", config.toString());
      awaitReady(device);
      awaitGrowth(outboxFolder, bytes + 1 + random.nextInt(40_000));
      device.destroyForcibly();
      assertTrue(device.waitFor(2, TimeUnit.MINUTES));
      try (Outbox outbox =
          Outbox.open(outboxFolder, OutboxOptions.standard(Duration.ofSeconds(1)))) {
        assertTrue(name.isEmpty() || name.equals(outbox.name()), "one outbox for all starts");
        name = outbox.name();
        List<Long> numbers =
            outbox.read(1, Integer.MAX_VALUE).stream().map(OutboxSample::sequence).toList();
        assertEquals(LongStream.rangeClosed(1, outbox.last()).boxed().toList(), numbers);
        assertTrue(outbox.last() > last, "it measured between the kills");
        assertEquals(List.of(), outbox.lost());
        last = outbox.last();
      }
      bytes = size(outboxFolder);
    }
  }

  private static long size(Path outbox) throws IOException {
    long size = 0;
    try (var files = Files.list(outbox)) {
      for (Path file : files.filter(f -> f.toString().endsWith(".samples")).toList()) {
        size += Files.size(file);
      }
    }
    return size;
  }

  @Test
  void killedWhileSendingEverySampleArrivesUpstairsUnderItsOwnNumber() throws Exception {
    Channel channel = Channel.of("shop", "bench");
    try (Mosquitto broker = Mosquitto.start(folder);
        StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), channel)) {
      Path config = settings(broker.uri().toString(), 500);
      for (int kill = 0; kill < 3; kill++) {
        int before = dashboard.samples().size();
        Process device = launch("--simulate", "--config", config.toString());
        awaitReady(device);
        assertTrue(
            dashboard.await(
                Duration.ofMinutes(2), () -> dashboard.samples().size() > before + 100));
        device.destroyForcibly();
        assertTrue(device.waitFor(2, TimeUnit.MINUTES));
      }
      Process device = launch("--simulate", "--config", config.toString());
      awaitReady(device);
      assertTrue(
          dashboard.await(
              Duration.ofMinutes(2),
              () -> dashboard.samples().lastKey() == dashboard.samples().size()),
          "no gap remains");
      device.destroy();
      assertTrue(device.waitFor(2, TimeUnit.MINUTES));
      assertTrue(
          dashboard.await(
              Duration.ofMinutes(2),
              () -> !dashboard.statuses().get(dashboard.statuses().size() - 1).online()),
          "it says goodbye");
    }
  }

  @Test
  void badSettingsAreRefusedWithWhatToWriteInstead() throws Exception {
    for (String bad :
        List.of("sample-seconds=0", "room=My Garage", "broker.uri=localhost", "color=red")) {
      Path config = Files.writeString(folder.resolve("bad.properties"), bad + "\n");
      Process device =
          new ProcessBuilder(
                  Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                  "-jar",
                  JAR.toString(),
                  "--config",
                  config.toString())
              .redirectErrorStream(true)
              .start();
      String said = new String(device.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      assertEquals(2, device.waitFor(), bad + ": " + said);
      assertTrue(said.contains(bad.substring(0, bad.indexOf('='))), said);
      assertFalse(said.contains("Exception"), said);
    }
  }
}
