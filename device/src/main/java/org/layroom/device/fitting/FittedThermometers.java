package org.layroom.device.fitting;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.OneWire;
import org.layroom.device.chip.Ds18b20;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.sampling.CorrectedSensor;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.sampling.ThermometerSensor;
import org.layroom.device.sampling.ValueOrigin;
import org.tinylog.Logger;

/** The thermometers on the 1-wire bus, with the roles that the settings give them. */
final class FittedThermometers {
  private final OneWire oneWire;
  private final DeviceConfig config;
  private final CurrentOffsets offsets;
  private final List<Sensor> thermometers = new ArrayList<>();
  private final List<String> known = new ArrayList<>();

  /** Whether a sensor speaks for the only mold; the settings may give it to another kind. */
  private boolean moldTaken;

  FittedThermometers(OneWire oneWire, DeviceConfig config, CurrentOffsets offsets) {
    this.offsets = offsets;
    this.oneWire = oneWire;
    this.config = config;
    moldTaken = config.chips().infrared().onTheOnlyMold();
  }

  List<Sensor> sensors() {
    return List.copyOf(thermometers);
  }

  /** Looks for thermometers not known yet. */
  void look() throws BusFault {
    config.resin().ifPresent(id -> add(List.of(id)));
    add(config.molds().values());
    add(oneWire.ids());
  }

  /** Roles by id from the settings; without any, the first thermometer is on the mold. */
  private void add(Collection<String> ids) {
    for (String id : ids) {
      if (!known.contains(id)) {
        role(id)
            .ifPresent(
                sensor -> {
                  known.add(id);
                  thermometers.add(found(sensor, id));
                });
      }
    }
  }

  private Optional<Sensor> role(String id) {
    Ds18b20 chip = new Ds18b20(oneWire, id);
    if (config.resin().isPresent() && config.resin().get().equals(id)) {
      return Optional.of(ThermometerSensor.resin(chip, ValueOrigin.LIVE));
    }
    for (Map.Entry<String, String> mold : config.molds().entrySet()) {
      if (mold.getValue().equals(id)) {
        return Optional.of(
            mold.getKey().isEmpty()
                ? ThermometerSensor.mold(chip, ValueOrigin.LIVE)
                : ThermometerSensor.mold(mold.getKey(), chip, ValueOrigin.LIVE));
      }
    }
    if (config.molds().isEmpty() && !moldTaken) {
      moldTaken = true;
      return Optional.of(ThermometerSensor.mold(chip, ValueOrigin.LIVE));
    }
    if (config.resin().isEmpty() && config.molds().isEmpty() && thermometers.size() == 1) {
      return Optional.of(ThermometerSensor.resin(chip, ValueOrigin.LIVE));
    }
    Logger.warn("Thermometer {} has no role: set mold.NAME.sensor={}", id, id);
    return Optional.empty();
  }

  private Sensor found(Sensor sensor, String id) {
    Logger.info("Found {} on the 1-wire bus", sensor.name());
    return CorrectedSensor.of(sensor, offsets, Optional.of(id));
  }
}
