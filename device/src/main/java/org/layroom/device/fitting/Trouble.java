package org.layroom.device.fitting;

import java.util.List;
import org.layroom.device.sampling.SamplingRound;
import org.layroom.device.sampling.Sensor;

/** Says why there is nothing to read, for as long as that is so. */
record Trouble(String name, String reason) implements Sensor {
  @Override
  public List<SeriesName> series() {
    return List.of();
  }

  @Override
  public Outcome read(SamplingRound round) {
    return failed(reason);
  }
}
