package org.layroom.device.fitting;

import static org.layroom.device.sampling.ValueOrigin.LIVE;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.OneWire;
import org.layroom.device.chip.ChipRead;
import org.layroom.device.chip.Ds18b20;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.sampling.CorrectedSensor;
import org.layroom.device.sampling.CurrentOffsets;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.sampling.ThermometerSensor;
import org.tinylog.Logger;

/**
 * The thermometers on the 1-wire bus, with the roles that the settings give them. Without names a
 * single one is on the mold, and that is remembered; no other is ever taken for it, and of several
 * none has a role until somebody has named them.
 */
final class FittedThermometers {
  private final OneWire oneWire;
  private final DeviceConfig config;
  private final CurrentOffsets offsets;
  private final MoldMemory memory;
  private final Map<String, Sensor> thermometers = new LinkedHashMap<>();
  private List<String> nameless = List.of();

  FittedThermometers(
      OneWire oneWire, DeviceConfig config, CurrentOffsets offsets, MoldMemory memory) {
    this.offsets = offsets;
    this.oneWire = oneWire;
    this.config = config;
    this.memory = memory;
  }

  /** All of them, for a round; several are told to convert at once first. */
  List<Sensor> forARound() {
    if (thermometers.size() > 1) {
      oneWire.convertAll();
    }
    return sensors();
  }

  private List<Sensor> sensors() {
    List<Sensor> all = new ArrayList<>(thermometers.values());
    nameless.forEach(id -> all.add(new Trouble("thermometer " + id, reason(id))));
    return all;
  }

  private static String reason(String id) {
    return "it has no role: write mold.sensor=%s or resin.sensor=%s into the settings (warm it in"
            .formatted(id, id)
        + " your hand and run layroom-device check to see which it is)";
  }

  /** Thermometers that are there and have no role, by id, with what they read now. */
  Map<String, ChipRead<Double>> readNameless() {
    Map<String, ChipRead<Double>> read = new LinkedHashMap<>();
    nameless.forEach(id -> read.put(id, new Ds18b20(oneWire, id).read()));
    return read;
  }

  /** Looks for thermometers not known yet. */
  void look() throws BusFault {
    config
        .molds()
        .forEach(
            (name, id) ->
                fit(
                    id,
                    chip ->
                        name.isEmpty()
                            ? ThermometerSensor.mold(chip, LIVE)
                            : ThermometerSensor.mold(name, chip, LIVE)));
    config.resin().ifPresent(id -> fit(id, chip -> ThermometerSensor.resin(chip, LIVE)));
    boolean moldIsNamed = !config.molds().isEmpty() || config.chips().infrared().onTheOnlyMold();
    if (!moldIsNamed) {
      memory.id().ifPresent(this::fitOnTheMold);
    }
    List<String> others =
        oneWire.ids().stream().filter(id -> !thermometers.containsKey(id)).toList();
    if (!moldIsNamed && memory.id().isEmpty() && others.size() == 1) {
      memory.remember(others.get(0));
      fitOnTheMold(others.get(0));
      others = List.of();
    }
    nameless = others;
  }

  private void fitOnTheMold(String id) {
    fit(id, chip -> ThermometerSensor.mold(chip, LIVE));
  }

  private void fit(String id, Function<Ds18b20, Sensor> role) {
    if (!thermometers.containsKey(id)) {
      Sensor sensor = role.apply(new Ds18b20(oneWire, id));
      thermometers.put(id, CorrectedSensor.of(sensor, offsets, Optional.of(id)));
      Logger.info("{} is on the 1-wire bus or named in the settings", sensor.name());
    }
  }
}
