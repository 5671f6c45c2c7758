package org.layroom.dashboard.alarms;

import java.util.List;
import java.util.stream.Stream;

/**
 * One scenario with one kind of sensor: a cell of the table. What happens is made anew at each call
 * of {@link #moments}, the same for the same seed.
 */
public interface Shop {
  /** The scenario, as its row is called. */
  String scenario();

  /** How strongly the sensor answers, as its column is called. */
  String sensitivity();

  /** The sensors in the shop, one for each device; at least one. */
  List<Sensor> sensors();

  /** The eight-hour limit that was chosen, ppm of styrene. */
  default double eightHourPpm() {
    return 20;
  }

  /**
   * What happens, in order of time, the first moment at zero. Steps of ten seconds are usual; none
   * is longer than 30 s unless the sensors are silent on purpose.
   *
   * @param seed of all that is random
   */
  Stream<Moment> moments(long seed);
}
