package org.layroom.device.outbox;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;

/** Samples to keep, each different from the others. */
final class Samples {
  static final Instant START = Instant.parse("2026-03-14T18:00:00Z");

  private Samples() {}

  static Sample number(long n) {
    return new Sample(
        Duration.ofSeconds(10 * n),
        START.plusSeconds(10 * n),
        true,
        List.of(
            Reading.of("temperature", "Cel", 18 + n / 1000.0),
            Reading.of("humidity", "%RH", 55.5, Quality.suspect("jumped by 31.0 %")),
            Reading.missing("voc-raw", "", "no answer: Stecker prüfen"),
            new Reading("note", "", OptionalDouble.empty(), Optional.of("n" + n), Quality.good())),
        List.of());
  }

  static void fill(Outbox outbox, int count) {
    for (int i = 0; i < count; i++) {
      outbox.append(number(outbox.last() + 1));
    }
  }
}
