package org.layroom.device;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cBus;
import org.layroom.device.bus.OneWire;
import org.layroom.device.chip.Bme280;
import org.layroom.device.chip.Ds18b20;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.chip.Sht4x;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.AirPart;
import org.layroom.device.sampling.KnownCleanAir;
import org.layroom.device.sampling.LevelPart;
import org.layroom.device.sampling.Origin;
import org.layroom.device.sampling.Part;
import org.layroom.device.sampling.Round;
import org.layroom.device.sampling.ThermometerPart;
import org.layroom.device.sampling.VocPart;
import org.tinylog.Logger;

/**
 * The sensors that are plugged in: looked for at their addresses at the start, and again every
 * minute for those not yet found. One that was found stays, so that its loss is a fault; so does a
 * thermometer that the settings name, found or not.
 */
final class FittedParts implements Supplier<List<? extends Part>> {
  private static final Duration LOOK_AGAIN = Duration.ofMinutes(1);

  private static final String NOTHING =
      "no sensor found at any known address: check plugs, wires and raspi-config";

  private final I2cBus i2c;
  private final OneWire oneWire;
  private final Pace pace;
  private final DeviceConfig config;
  private final KnownCleanAir cleanAir;
  private final List<Part> air = new ArrayList<>();
  private final List<Part> thermometers = new ArrayList<>();
  private final List<String> thermometerIds = new ArrayList<>();
  private Optional<Bme280> bme280 = Optional.empty();
  private Optional<Part> barometer = Optional.empty();
  private Optional<Part> voc = Optional.empty();
  private boolean unnamedMold;
  private final List<Part> troubles = new ArrayList<>();
  private Optional<Duration> lookedAt = Optional.empty();

  FittedParts(I2cBus i2c, OneWire oneWire, Pace pace, DeviceConfig config, KnownCleanAir cleanAir) {
    this.i2c = i2c;
    this.oneWire = oneWire;
    this.pace = pace;
    this.config = config;
    this.cleanAir = cleanAir;
  }

  @Override
  public List<Part> get() {
    boolean due =
        lookedAt.isEmpty() || pace.uptime().minus(lookedAt.get()).compareTo(LOOK_AGAIN) >= 0;
    if (due) {
      lookedAt = Optional.of(pace.uptime());
      look();
    }
    List<Part> all = new ArrayList<>(air);
    barometer.ifPresent(all::add);
    all.addAll(thermometers);
    voc.ifPresent(all::add);
    all.addAll(troubles);
    return all.isEmpty() ? List.of(new Trouble("sensors", NOTHING)) : all;
  }

  private void look() {
    troubles.clear();
    try {
      lookForAir();
      if (voc.isEmpty()) {
        Sgp40 chip = new Sgp40(i2c.device(Sgp40.ADDRESS), pace);
        if (chip.passesSelfTest()) {
          voc = Optional.of(found(new LevelPart(new VocPart(chip, Origin.LIVE), cleanAir, pace)));
        }
      }
    } catch (BusFault e) {
      troubles.add(new Trouble("I2C bus", e.reason()));
    }
    try {
      config.resin().ifPresent(id -> lookForThermometers(List.of(id)));
      lookForThermometers(config.molds().values());
      lookForThermometers(oneWire.ids());
    } catch (BusFault e) {
      troubles.add(new Trouble("1-wire bus", e.reason()));
    }
  }

  private void lookForAir() throws BusFault {
    for (int address : new int[] {Sht4x.ADDRESS_A, Sht4x.ADDRESS_B}) {
      Sht4x chip = new Sht4x(i2c.device(address), pace);
      if (air.isEmpty() && chip.present()) {
        air.add(found(AirPart.sht4x(chip, Origin.LIVE)));
        barometer = bme280.map(known -> found(AirPart.barometer(known, Origin.LIVE)));
      }
    }
    for (int address : new int[] {Bme280.ADDRESS_SDO_LOW, Bme280.ADDRESS_SDO_HIGH}) {
      Bme280 chip = new Bme280(i2c.device(address), pace);
      if (barometer.isEmpty() && chip.present()) {
        bme280 = Optional.of(chip);
        barometer =
            Optional.of(
                found(
                    air.isEmpty()
                        ? AirPart.bme280(chip, Origin.LIVE)
                        : AirPart.barometer(chip, Origin.LIVE)));
      }
    }
  }

  /** Roles by id from the settings; without any, the first thermometer is on the mold. */
  private void lookForThermometers(Collection<String> ids) {
    for (String id : ids) {
      if (!thermometerIds.contains(id)) {
        role(id)
            .ifPresent(
                part -> {
                  thermometerIds.add(id);
                  thermometers.add(found(part));
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
    if (config.molds().isEmpty() && !unnamedMold) {
      unnamedMold = true;
      return Optional.of(ThermometerPart.mold(chip, Origin.LIVE));
    }
    if (config.resin().isEmpty() && config.molds().isEmpty() && thermometers.size() == 1) {
      return Optional.of(ThermometerPart.resin(chip, Origin.LIVE));
    }
    Logger.warn("Thermometer {} has no role: name it with mold.NAME.sensor={}", id, id);
    return Optional.empty();
  }

  private static <T extends Part> T found(T part) {
    Logger.info("Found {}", part.name());
    return part;
  }

  /** Says why there is nothing to read. */
  private record Trouble(String name, String reason) implements Part {
    @Override
    public List<SeriesName> series() {
      return List.of();
    }

    @Override
    public Outcome read(Round round) {
      return failed(reason);
    }
  }
}
