package org.layroom.device.sampling;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.layroom.device.chip.ChipRead;
import org.layroom.device.chip.Mlx90614;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/** An MLX90614 that looks at a mold: its surface, as one of the mold temperatures. */
public final class InfraredSensor implements Sensor {
  /** Its mold's name where the settings give it no other. */
  public static final String NAME = "infrared";

  /** Somebody may lean between it and the mold (this project's choice). */
  private static final double JUMP = 8;

  /** Its last digit, 0.02 degC, is never still for this long (common practice, no source). */
  private static final Duration STUCK = Duration.ofHours(2);

  private final Mlx90614 chip;
  private final SeriesName series;
  private final SeriesCheck watch =
      new SeriesCheck(new SeriesCheck.Limits(-40, 150, JUMP, STUCK, "°C"));

  /**
   * A surface thermometer.
   *
   * @param name of the mold, 1 to 32 of {@code a-z 0-9 -}; empty for the device's only mold
   */
  public InfraredSensor(Mlx90614 chip, Optional<String> name) {
    this.chip = chip;
    series =
        new SeriesName(
            name.map(one -> Series.MOLD_TEMPERATURE + "/" + one).orElse(Series.MOLD_TEMPERATURE),
            Series.CELSIUS);
  }

  @Override
  public String name() {
    return series.name() + " sensor MLX90614";
  }

  @Override
  public List<SeriesName> series() {
    return List.of(series);
  }

  @Override
  public Outcome read(SamplingRound round) {
    ChipRead<Mlx90614.Surface> read = chip.read();
    if (read instanceof ChipRead.Failed<Mlx90614.Surface> failed) {
      return failed(failed.reason());
    }
    double celsius = ((ChipRead.Value<Mlx90614.Surface>) read).value().surfaceC();
    Quality quality = watch.judge(celsius, round.uptime());
    return quality instanceof Quality.Fault fault
        ? failed(fault.reason())
        : Outcome.of(List.of(Reading.of(series.name(), series.unit(), celsius, quality)));
  }
}
