package org.layroom.device.sampling;

import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.device.telemetry.Series;

/** A part whose values are corrected by what a comparison has shown, as it is known at the time. */
public final class OffsetPart implements Part {
  private final Part part;
  private final KnownOffsets offsets;
  private final Optional<String> id;

  private OffsetPart(Part part, KnownOffsets offsets, Optional<String> id) {
    this.part = part;
    this.offsets = offsets;
    this.id = id;
  }

  /**
   * The part, corrected where there is something to correct.
   *
   * @param id of a thermometer, by which its offset may be named; empty for other sensors
   */
  public static Part of(Part part, KnownOffsets offsets, Optional<String> id) {
    return part.series().stream().anyMatch(series -> Series.correctable(series.name()))
        ? new OffsetPart(part, offsets, id)
        : part;
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
    if (!Series.correctable(reading.name()) || reading.value().isEmpty()) {
      return reading;
    }
    Optional<SensorOffset> offset = offsets.use(reading.name(), id);
    if (offset.isEmpty()) {
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
