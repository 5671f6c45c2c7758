package org.layroom.predictor.vapor;

import java.util.List;
import java.util.Optional;
import org.layroom.predictor.limits.RangeCheck;

/**
 * How strongly a chip answered in one job: its rise over clean air against the styrene that the box
 * model predicted for the same minutes, carried to 100 ppm with the exponent of a metal oxide (0.5
 * to 0.8 published for tin oxide, from memory; the lowest, which leaves earliest, is taken). It is
 * no calibration: the prediction may be off by two.
 *
 * @param riseAt100Ppm level less one at 100 ppm predicted, times clean air, above zero
 */
public record ChipAnswer(double riseAt100Ppm) {
  private static final double REFERENCE_PPM = 100;
  private static final double EXPONENT = 0.5;
  private static final double LEAST_LEVEL = VocLevel.RISE_FROM;
  private static final double LEAST_PPM = 3;
  private static final int LEAST_MINUTES = 3;

  public ChipAnswer {
    RangeCheck.positive("rise at 100 ppm", riseAt100Ppm, 1e6, "times clean air");
  }

  /**
   * One minute of a job.
   *
   * @param level the minute's mean, times clean air
   * @param predictedPpm by the box model for what was mixed
   */
  public record Minute(double level, double predictedPpm) {
    public Minute {
      RangeCheck.within("level", level, 0, 1e30, "times clean air");
      RangeCheck.within("predicted styrene", predictedPpm, 0, 1e6, "ppm");
    }

    boolean counts() {
      return level > LEAST_LEVEL && predictedPpm >= LEAST_PPM;
    }

    double riseAt100Ppm() {
      return (level - 1) * StrictMath.pow(REFERENCE_PPM / predictedPpm, EXPONENT);
    }
  }

  /** The median of a finished job's minutes; empty with fewer than three that rose above twice. */
  public static Optional<ChipAnswer> ofJob(List<Minute> minutes) {
    List<Double> rises =
        minutes.stream().filter(Minute::counts).map(Minute::riseAt100Ppm).sorted().toList();
    return rises.size() < LEAST_MINUTES
        ? Optional.empty()
        : Optional.of(new ChipAnswer(Math.min(1e6, rises.get(rises.size() / 2))));
  }

  /** The level at half the concentration of another level, times clean air. */
  static double atHalf(double level) {
    return 1 + (level - 1) * StrictMath.pow(0.5, EXPONENT);
  }

  /** The level expected at so many ppm, times clean air. */
  double level(double ppm) {
    return 1 + riseAt100Ppm * StrictMath.pow(ppm / REFERENCE_PPM, EXPONENT);
  }
}
