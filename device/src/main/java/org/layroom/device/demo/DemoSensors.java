package org.layroom.device.demo;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.device.chip.Ds18b20;
import org.layroom.device.config.ChipSettings;
import org.layroom.device.fitting.ChipCatalog;
import org.layroom.device.fitting.ChipContext;
import org.layroom.device.fitting.ChipKind;
import org.layroom.device.fitting.I2cChip;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.CurrentCleanAir;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.sampling.ThermometerSensor;
import org.layroom.device.sampling.ValueOrigin;
import org.layroom.device.simulated.SimulatedBench;

/** The real drivers on a simulated bench: whatever of the catalog is fitted to it. */
final class DemoSensors {
  private DemoSensors() {}

  /**
   * All sensors of the bench, in the catalog's order.
   *
   * @param poweredFor how long the chips have been on
   * @param cleanAir what the level is reckoned from
   */
  static List<Sensor> of(
      SimulatedBench bench, Pace pace, Duration poweredFor, CurrentCleanAir cleanAir) {
    ChipContext context =
        new ChipContext(
            pace,
            ChipSettings.standard(),
            cleanAir,
            Optional.of(poweredFor).filter(time -> !time.isZero()));
    List<Sensor> sensors = new ArrayList<>();
    for (ChipKind kind : ChipCatalog.standard().kinds()) {
      if (kind instanceof I2cChip chip) {
        fitted(chip, bench, context).ifPresent(sensors::add);
      } else {
        sensors.addAll(thermometers(bench));
      }
    }
    return List.copyOf(sensors);
  }

  private static Optional<Sensor> fitted(I2cChip kind, SimulatedBench bench, ChipContext context) {
    return kind.addresses().stream()
        .filter(bench.i2c()::fitted)
        .findFirst()
        .flatMap(address -> kind.driver().open(bench.i2c().device(address), context).sensor(false));
  }

  private static List<Sensor> thermometers(SimulatedBench bench) {
    return List.of(
        ThermometerSensor.mold(
            new Ds18b20(bench.oneWire(), SimulatedBench.MOLD_ID), ValueOrigin.LIVE),
        ThermometerSensor.resin(
            new Ds18b20(bench.oneWire(), SimulatedBench.RESIN_ID), ValueOrigin.LIVE));
  }
}
