package org.layroom.dashboard.room;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.atomic.AtomicLong;
import org.layroom.dashboard.ingest.Inbound;
import org.layroom.dashboard.ingest.Ingest;
import org.layroom.dashboard.ingest.ReadingListener;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.ReadingsBody;
import org.layroom.device.telemetry.SampleTime;
import org.layroom.device.telemetry.Topic;

/**
 * Prints start-up time, memory, throughput and size of the store on this machine. Run its {@code
 * main} from the test class path with {@code -Xmx64m -XX:+UseSerialGC}.
 */
public final class CoreFigures {
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final int DAY = 8640;
  private static final Instant START = Instant.parse("2026-11-02T00:00:00Z");

  private CoreFigures() {}

  public static void main(String[] args) throws IOException, InterruptedException {
    Path folder = Files.createTempDirectory("layroom-figures");
    RealTime pace = new RealTime();
    startUpAndLink(folder.resolve("core"), pace);
    ingest(folder.resolve("ingest"), pace);
    days(folder.resolve("days"));
    pace.close();
  }

  private static List<Reading> tenReadings(int i) {
    double wave = Math.sin(i / 700.0);
    return List.of(
        Reading.of("temperature", "Cel", Math.round((19 + wave) * 100) / 100.0),
        Reading.of("humidity", "%RH", Math.round((55 + 5 * wave) * 100) / 100.0),
        Reading.of("mold-temperature", "Cel", Math.round((18 + wave) * 16) / 16.0),
        Reading.of("resin-temperature", "Cel", Math.round((18 - wave) * 16) / 16.0),
        Reading.of("pressure", "Pa", (double) Math.round(101300 + 100 * wave)),
        Reading.of("voc-raw", "", (double) Math.round(30000 + 500 * wave)),
        Reading.of("voc-level", "/", Math.round((1.2 + 0.1 * wave) * 1000) / 1000.0),
        Reading.of("styrene-estimate", "/", Math.round(5 + wave) * 1e-6),
        Reading.of("mold-temperature/fender", "Cel", Math.round((20 + wave) * 16) / 16.0),
        Reading.of("mold-temperature/hatch", "Cel", Math.round((21 + wave) * 16) / 16.0));
  }

  private static void startUpAndLink(Path folder, RealTime pace) throws IOException {
    long begin = System.nanoTime();
    try (DashboardCore core = DashboardCore.start(CoreSettings.embedded(folder, 0), pace, pace)) {
      System.out.println("core started in ms: " + millisSince(begin));
      Until.within(Duration.ofSeconds(30), "linked", () -> core.link().connected());
      System.out.println("linked after ms: " + millisSince(begin));
      System.out.println("resident KiB idle: " + resident());
      try (OutboxDevice device =
          new OutboxDevice(
              core::brokerUri, BENCH, "box", OutboxDevice.Login.of(core.logins(), BENCH))) {
        int n = 20_000;
        for (int i = 0; i < n; i++) {
          device.measure(Instant.now(), 20);
        }
        long sending = System.nanoTime();
        device.start();
        Until.within(Duration.ofMinutes(2), "stored", () -> device.mark() == n);
        System.out.println(
            "samples a second through the broker: " + n * 1000L / millisSince(sending));
        System.out.println("resident KiB after: " + resident());
      }
    }
  }

  private static void ingest(Path folder, RealTime pace) {
    try (Store store = StoreFolder.open(folder)) {
      AtomicLong done = new AtomicLong();
      Ingest ingest =
          new Ingest(
              store,
              pace,
              new ReadingListener() {
                @Override
                public void marks(List<OutboxMark> marks) {
                  marks.forEach(mark -> done.set(mark.mark().sequence()));
                }
              });
      ingest.start();
      long begin = System.nanoTime();
      int n = 3 * DAY;
      for (int i = 0; i < n; i++) {
        DeviceMessage.Sample sample =
            new DeviceMessage.Sample(
                new SampleTime.At(START.plusSeconds(10L * i)),
                Optional.of(new OutboxPosition("box", i + 1)),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                tenReadings(i));
        Inbound inbound =
            new Inbound(
                BENCH.topic(Topic.READINGS),
                ReadingsBody.write(BENCH, sample),
                START.plusSeconds(10L * i),
                Optional.empty(),
                () -> {});
        while (!ingest.accept(inbound)) {
          Thread.onSpinWait();
        }
      }
      Until.within(Duration.ofMinutes(2), "stored", () -> done.get() == n);
      long millis = millisSince(begin);
      System.out.println(
          "ingest, samples of 10 readings a second: "
              + n * 1000L / millis
              + ", readings a second: "
              + n * 10_000L / millis);
      ingest.close();
    }
  }

  private static void days(Path folder) throws IOException {
    int days = 10;
    try (Store store = StoreFolder.open(folder)) {
      for (int day = 0; day < days; day++) {
        for (int at = 0; at < DAY; at += 6) {
          List<StoreEntry> entries = new ArrayList<>();
          for (int i = day * DAY + at; i < day * DAY + at + 6; i++) {
            Instant time = START.plusSeconds(10L * i);
            entries.add(
                new StoreEntry.Sample(
                    BENCH,
                    Optional.of(new OutboxPosition("box", i + 1)),
                    SampleTimes.asSaid(time, time),
                    tenReadings(i),
                    List.of()));
          }
          store.append(entries);
        }
      }
      query(store, "a day raw", Duration.ofDays(1));
      query(store, "ten days rolled up", Duration.ofDays(days));
    }
    System.out.println(
        "store, KiB a day at 10 s and 10 series: "
            + Files.size(folder.resolve("layroom.db")) / 1024 / days);
  }

  private static void query(Store store, String what, Duration back) {
    Instant end = START.plus(Duration.ofDays(10));
    for (int i = 0; i < 3; i++) {
      long begin = System.nanoTime();
      int n =
          store
              .history()
              .between(BENCH.room(), "temperature", end.minus(back), end, 1000)
              .buckets()
              .size();
      System.out.println(what + ": " + n + " buckets in ms: " + millisSince(begin));
    }
  }

  private static long millisSince(long nanos) {
    return Math.max(1, Duration.ofNanos(System.nanoTime() - nanos).toMillis());
  }

  private static String resident() throws IOException {
    System.gc();
    Path status = Path.of("/proc/self/status");
    if (!Files.exists(status)) {
      return "unknown";
    }
    return Files.readAllLines(status).stream()
        .filter(line -> line.startsWith("VmRSS"))
        .findFirst()
        .orElse("unknown")
        .replaceAll("[^0-9]", "");
  }
}
