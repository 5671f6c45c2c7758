package org.layroom.device.sampling;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/** A part whose values are corrected by what a comparison has shown. */
public final class OffsetPart implements Part {
  private final Part part;
  private final Map<String, Offset> offsets;

  private OffsetPart(Part part, Map<String, Offset> offsets) {
    this.part = part;
    this.offsets = Map.copyOf(offsets);
  }

  /**
   * The part, corrected where there is something to correct.
   *
   * @param offsets by name of the series
   */
  public static Part of(Part part, Map<String, Offset> offsets) {
    Map<String, Offset> own =
        offsets.entrySet().stream()
            .filter(entry -> part.series().stream().anyMatch(s -> s.name().equals(entry.getKey())))
            .collect(Collectors.toMap(Map.Entry::getKey, Map.Entry::getValue));
    return own.isEmpty() ? part : new OffsetPart(part, own);
  }

  @Override
  public String name() {
    return part.name();
  }

  @Override
  public List<SeriesName> series() {
    return part.series();
  }

  @Override
  public Outcome read(Round round) {
    Outcome outcome = part.read(round);
    return new Outcome(outcome.readings().stream().map(this::corrected).toList(), outcome.fault());
  }

  private Reading corrected(Reading reading) {
    Optional<Offset> offset = Optional.ofNullable(offsets.get(reading.name()));
    if (offset.isEmpty() || reading.value().isEmpty()) {
      return reading;
    }
    double value = reading.value().getAsDouble() + offset.get().amount();
    boolean humidity = reading.name().equals(Series.HUMIDITY);
    return Reading.of(
        reading.name(),
        reading.unit(),
        humidity ? Math.max(0, Math.min(100, value)) : value,
        reading.quality());
  }
}
