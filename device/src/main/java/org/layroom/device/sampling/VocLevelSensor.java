package org.layroom.device.sampling;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.vapor.VocLevel;

/**
 * A VOC chip with a clean-air reading: beside the raw signal it tells how many times this room's
 * clean air, with the raw signal's own quality. Never ppm.
 */
public final class VocLevelSensor implements Sensor {
  private static final SeriesName LEVEL = new SeriesName(Series.VOC_LEVEL, Series.RATIO);

  private final Sensor chip;
  private final CurrentCleanAir cleanAir;
  private final Pace pace;

  /**
   * A chip's readings with the level beside them.
   *
   * @param chip gives {@code voc-raw}
   */
  public VocLevelSensor(Sensor chip, CurrentCleanAir cleanAir, Pace pace) {
    this.chip = chip;
    this.cleanAir = cleanAir;
    this.pace = pace;
  }

  @Override
  public String name() {
    return chip.name();
  }

  @Override
  public List<SeriesName> series() {
    return cleanAir.newest().isPresent()
        ? Stream.concat(chip.series().stream(), Stream.of(LEVEL)).toList()
        : chip.series();
  }

  @Override
  public Outcome read(SamplingRound round) {
    Outcome outcome = chip.read(round);
    List<Reading> readings = new ArrayList<>(outcome.readings());
    for (Reading reading : outcome.readings()) {
      if (reading.name().equals(Series.VOC_RAW)) {
        cleanAir.newest().ifPresent(clean -> readings.add(level(reading, clean)));
      }
    }
    return new Outcome(readings, outcome.fault());
  }

  private Reading level(Reading raw, CleanAir clean) {
    Optional<String> objection = clean.objection(pace.now());
    if (objection.isPresent()) {
      return Reading.missing(LEVEL.name(), LEVEL.unit(), objection.get());
    }
    if (raw.value().isEmpty()) {
      return new Reading(LEVEL.name(), LEVEL.unit(), raw.value(), raw.text(), raw.quality());
    }
    double level = VocLevel.timesCleanAir(clean.ticks(), raw.value().getAsDouble());
    return Reading.of(LEVEL.name(), LEVEL.unit(), level, raw.quality());
  }
}
