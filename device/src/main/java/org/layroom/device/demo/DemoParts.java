package org.layroom.device.demo;

import java.time.Duration;
import java.util.List;
import org.layroom.device.chip.Ds18b20;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.chip.Sht4x;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.AirPart;
import org.layroom.device.sampling.KnownCleanAir;
import org.layroom.device.sampling.LevelPart;
import org.layroom.device.sampling.Origin;
import org.layroom.device.sampling.Part;
import org.layroom.device.sampling.ThermometerPart;
import org.layroom.device.sampling.VocPart;
import org.layroom.device.simulated.SimulatedBench;

/** The real drivers on a simulated bench. */
final class DemoParts {
  private DemoParts() {}

  /**
   * All parts of the bench.
   *
   * @param poweredFor how long the vapor sensor has been on
   * @param cleanAir what the level is reckoned from
   */
  static List<Part> of(
      SimulatedBench bench, Pace pace, Duration poweredFor, KnownCleanAir cleanAir) {
    Sgp40 sgp40 = new Sgp40(bench.i2c().device(SimulatedBench.VOC_ADDRESS), pace);
    VocPart voc =
        poweredFor.isZero()
            ? new VocPart(sgp40, Origin.LIVE)
            : VocPart.poweredFor(poweredFor, sgp40, Origin.LIVE);
    return List.of(
        AirPart.sht4x(new Sht4x(bench.i2c().device(SimulatedBench.AIR_ADDRESS), pace), Origin.LIVE),
        ThermometerPart.mold(new Ds18b20(bench.oneWire(), SimulatedBench.MOLD_ID), Origin.LIVE),
        ThermometerPart.resin(new Ds18b20(bench.oneWire(), SimulatedBench.RESIN_ID), Origin.LIVE),
        new LevelPart(voc, cleanAir, pace));
  }
}
