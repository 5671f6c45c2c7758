package org.layroom.device.demo;

import java.time.Duration;
import java.util.List;
import org.layroom.device.chip.Ds18b20;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.chip.Sht4x;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.AirSensor;
import org.layroom.device.sampling.CurrentCleanAir;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.sampling.ThermometerSensor;
import org.layroom.device.sampling.ValueOrigin;
import org.layroom.device.sampling.VocLevelSensor;
import org.layroom.device.sampling.VocSensor;
import org.layroom.device.simulated.SimulatedBench;

/** The real drivers on a simulated bench. */
final class DemoSensors {
  private DemoSensors() {}

  /**
   * All parts of the bench.
   *
   * @param poweredFor how long the vapor sensor has been on
   * @param cleanAir what the level is reckoned from
   */
  static List<Sensor> of(
      SimulatedBench bench, Pace pace, Duration poweredFor, CurrentCleanAir cleanAir) {
    Sgp40 sgp40 = new Sgp40(bench.i2c().device(SimulatedBench.VOC_ADDRESS), pace);
    VocSensor voc =
        poweredFor.isZero()
            ? new VocSensor(sgp40, ValueOrigin.LIVE)
            : VocSensor.poweredFor(poweredFor, sgp40, ValueOrigin.LIVE);
    return List.of(
        AirSensor.sht4x(
            new Sht4x(bench.i2c().device(SimulatedBench.AIR_ADDRESS), pace), ValueOrigin.LIVE),
        ThermometerSensor.mold(
            new Ds18b20(bench.oneWire(), SimulatedBench.MOLD_ID), ValueOrigin.LIVE),
        ThermometerSensor.resin(
            new Ds18b20(bench.oneWire(), SimulatedBench.RESIN_ID), ValueOrigin.LIVE),
        new VocLevelSensor(voc, cleanAir, pace));
  }
}
