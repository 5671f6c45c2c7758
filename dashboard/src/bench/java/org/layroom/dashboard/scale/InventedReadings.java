package org.layroom.dashboard.scale;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/** A device that measures six series every ten seconds: invented, the same in each run. */
final class InventedReadings {
  static final Channel CHANNEL = Channel.of("shop", "bench");
  static final Instant BEGUN = Instant.parse("2025-10-01T00:00:00Z");
  static final int SECONDS = 10;
  static final int A_DAY = 24 * 60 * 60 / SECONDS;
  private static final long SEED = 20261130;

  private InventedReadings() {}

  static Instant time(long number) {
    return BEGUN.plusSeconds(SECONDS * number);
  }

  /** Samples {@code [from, to)}; the first ever is 0. */
  static List<StoreEntry> samples(long from, long to) {
    List<StoreEntry> samples = new ArrayList<>();
    for (long number = from; number < to; number++) {
      SplittableRandom random = new SplittableRandom(SEED + number);
      Instant time = time(number);
      double day = Math.sin(2 * Math.PI * number / A_DAY);
      samples.add(
          new StoreEntry.Sample(
              CHANNEL,
              Optional.of(new OutboxPosition("box", number + 1)),
              SampleTimes.asSaid(time, time.plusMillis(200)),
              List.of(
                  value(random, Series.TEMPERATURE, Series.CELSIUS, 19 + 3 * day),
                  value(random, Series.HUMIDITY, Series.RELATIVE_HUMIDITY, 55 - 8 * day),
                  value(random, Series.MOLD_TEMPERATURE, Series.CELSIUS, 18 + 2 * day),
                  value(random, Series.RESIN_TEMPERATURE, Series.CELSIUS, 18 + day),
                  value(random, Series.VOC_RAW, Series.NO_UNIT, 30_000),
                  value(random, Series.VOC_LEVEL, Series.RATIO, 1.2)),
              List.of()));
    }
    return samples;
  }

  private static Reading value(
      SplittableRandom random, String name, String unit, double usual) {
    return Reading.of(name, unit, Math.round(100 * usual * random.nextDouble(0.98, 1.02)) / 100.0);
  }
}
