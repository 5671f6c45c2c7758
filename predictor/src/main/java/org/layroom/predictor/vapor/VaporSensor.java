package org.layroom.predictor.vapor;

import java.util.Optional;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.limits.RangeCheck;

/**
 * What measures the vapor, and so which words may be used: a metal-oxide chip tells how many times
 * this room's clean air and nothing more; only an instrument with a factor tells ppm.
 */
public sealed interface VaporSensor {
  /**
   * A metal-oxide chip such as the SGP40.
   *
   * @param cleanAir empty until one has been taken: the air is then unknown
   * @param leave from which level somebody must leave
   * @param keptByDevice its device keeps the clean-air reading and sends levels instead of ticks
   */
  record Chip(Optional<CleanAirReading> cleanAir, LeaveLevels leave, boolean keptByDevice)
      implements VaporSensor {
    /** A chip with this clean-air reading, before its first job. */
    public static Chip with(CleanAirReading cleanAir) {
      return new Chip(Optional.of(cleanAir), LeaveLevels.FIRST, false);
    }

    /** A chip that has not seen clean air yet. */
    public static Chip fresh() {
      return new Chip(Optional.empty(), LeaveLevels.FIRST, false);
    }

    /** A chip whose device keeps the clean-air reading and sends {@link AirEvent.Level}. */
    public static Chip elsewhere() {
      return new Chip(Optional.empty(), LeaveLevels.FIRST, true);
    }

    /** The same chip after another clean-air reading. */
    Chip cleanAt(CleanAirReading reading) {
      return new Chip(Optional.of(reading), leave, keptByDevice);
    }

    /** The same chip with other levels. */
    public Chip leavingFrom(LeaveLevels levels) {
      return new Chip(cleanAir, levels, keptByDevice);
    }
  }

  /**
   * A photoionization detector (10.6 eV) that reads isobutylene; ppm as styrene is its reading
   * times a factor, if nothing else is in the air.
   *
   * @param limit the workplace limit that the user chose
   * @param styreneFactor 0.45 as published, or 0.40 by another source; above 0, at most 10
   */
  record Pid(ExposureLimit limit, double styreneFactor) implements VaporSensor {
    /** Isobutylene reading to styrene (published; lamp not stated). */
    public static final double USUAL_FACTOR = 0.45;

    public Pid {
      RangeCheck.positive("styrene factor", styreneFactor, 10, "");
    }
  }
}
