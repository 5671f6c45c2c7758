package org.layroom.device;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.OneWire;
import org.layroom.device.chip.Ds18b20;
import org.layroom.device.sampling.KnownOffsets;
import org.layroom.device.sampling.OffsetPart;
import org.layroom.device.sampling.Origin;
import org.layroom.device.sampling.Part;
import org.layroom.device.sampling.ThermometerPart;
import org.tinylog.Logger;

/** The thermometers on the 1-wire bus, with the roles that the settings give them. */
final class FittedThermometers {
  private final OneWire oneWire;
  private final DeviceConfig config;
  private final KnownOffsets offsets;
  private final List<Part> thermometers = new ArrayList<>();
  private final List<String> known = new ArrayList<>();
  private boolean moldTaken;

  FittedThermometers(OneWire oneWire, DeviceConfig config, KnownOffsets offsets) {
    this.offsets = offsets;
    this.oneWire = oneWire;
    this.config = config;
  }

  List<Part> parts() {
    return List.copyOf(thermometers);
  }

  /** The settings give the only mold to another sensor. */
  void leaveTheMold() {
    moldTaken = true;
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
                part -> {
                  known.add(id);
                  thermometers.add(found(part, id));
                });
      }
    }
  }

  private Optional<Part> role(String id) {
    Ds18b20 chip = new Ds18b20(oneWire, id);
    if (config.resin().isPresent() && config.resin().get().equals(id)) {
      return Optional.of(ThermometerPart.resin(chip, Origin.LIVE));
    }
    for (Map.Entry<String, String> mold : config.molds().entrySet()) {
      if (mold.getValue().equals(id)) {
        return Optional.of(
            mold.getKey().isEmpty()
                ? ThermometerPart.mold(chip, Origin.LIVE)
                : ThermometerPart.mold(mold.getKey(), chip, Origin.LIVE));
      }
    }
    if (config.molds().isEmpty() && !moldTaken) {
      moldTaken = true;
      return Optional.of(ThermometerPart.mold(chip, Origin.LIVE));
    }
    if (config.resin().isEmpty() && config.molds().isEmpty() && thermometers.size() == 1) {
      return Optional.of(ThermometerPart.resin(chip, Origin.LIVE));
    }
    Logger.warn("Thermometer {} has no role: name it with mold.NAME.sensor={}", id, id);
    return Optional.empty();
  }

  private Part found(Part part, String id) {
    Logger.info("Found {} on the 1-wire bus", part.name());
    return OffsetPart.of(part, offsets, Optional.of(id));
  }
}
