package org.layroom.device;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Supplier;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.I2cBus;
import org.layroom.device.bus.OneWire;
import org.layroom.device.chip.Ads1115;
import org.layroom.device.chip.Bme280;
import org.layroom.device.chip.Mlx90614;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.chip.Sht4x;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.AirPart;
import org.layroom.device.sampling.InfraredPart;
import org.layroom.device.sampling.KnownCleanAir;
import org.layroom.device.sampling.KnownOffsets;
import org.layroom.device.sampling.LevelPart;
import org.layroom.device.sampling.OffsetPart;
import org.layroom.device.sampling.Origin;
import org.layroom.device.sampling.Part;
import org.layroom.device.sampling.PidPart;
import org.layroom.device.sampling.Round;
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
  private final Pace pace;
  private final DeviceConfig config;
  private final KnownCleanAir cleanAir;
  private final KnownOffsets offsets;
  private final FittedThermometers thermometers;
  private final Map<String, String> places = new TreeMap<>();
  private final List<Part> air = new ArrayList<>();
  private Optional<Bme280> bme280 = Optional.empty();
  private Optional<Part> barometer = Optional.empty();
  private Optional<Part> infrared = Optional.empty();
  private Optional<Part> voc = Optional.empty();
  private Optional<Part> pid = Optional.empty();
  private final List<Part> troubles = new ArrayList<>();
  private Optional<Duration> lookedAt = Optional.empty();

  FittedParts(I2cBus i2c, OneWire oneWire, Pace pace, DeviceConfig config, KnownCleanAir cleanAir) {
    this(i2c, oneWire, pace, config, cleanAir, new KnownOffsets(config.offsets()));
  }

  FittedParts(
      I2cBus i2c,
      OneWire oneWire,
      Pace pace,
      DeviceConfig config,
      KnownCleanAir cleanAir,
      KnownOffsets offsets) {
    this.offsets = offsets;
    this.i2c = i2c;
    this.pace = pace;
    this.config = config;
    this.cleanAir = cleanAir;
    thermometers = new FittedThermometers(oneWire, config, offsets);
    if (config.infrared().onTheOnlyMold()) {
      thermometers.leaveTheMold();
    }
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
    all.addAll(thermometers.parts());
    infrared.ifPresent(all::add);
    voc.ifPresent(all::add);
    pid.ifPresent(all::add);
    all.addAll(troubles);
    return all.isEmpty() ? List.of(new Trouble("sensors", NOTHING)) : all;
  }

  /** Where a part was found, in words; empty for one that was not. */
  String place(Part part) {
    return places.getOrDefault(part.name(), "");
  }

  private void look() {
    troubles.clear();
    try {
      Sgp40 vapor = new Sgp40(i2c.device(Sgp40.ADDRESS), pace);
      if (voc.isEmpty()) {
        vapor.beginSelfTest();
      }
      lookForAir();
      lookForInfrared();
      lookForPid();
      lookForVapor(vapor);
    } catch (BusFault e) {
      troubles.add(new Trouble("I2C bus", e.reason()));
    }
    try {
      thermometers.look();
    } catch (BusFault e) {
      troubles.add(new Trouble("1-wire bus", e.reason()));
    }
  }

  private void lookForAir() throws BusFault {
    for (int address : new int[] {Sht4x.ADDRESS_A, Sht4x.ADDRESS_B}) {
      Sht4x chip = new Sht4x(i2c.device(address), pace);
      if (air.isEmpty() && chip.present()) {
        air.add(found(AirPart.sht4x(chip, Origin.LIVE), address));
        barometer = bme280.map(known -> AirPart.barometer(known, Origin.LIVE));
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
                        : AirPart.barometer(chip, Origin.LIVE),
                    address));
      }
    }
  }

  private void lookForInfrared() throws BusFault {
    Mlx90614 chip = new Mlx90614(i2c.device(Mlx90614.ADDRESS), config.infrared().emissivity());
    if (infrared.isEmpty() && chip.present()) {
      infrared =
          Optional.of(
              found(new InfraredPart(chip, config.infrared().seriesName()), Mlx90614.ADDRESS));
    }
  }

  private void lookForVapor(Sgp40 chip) {
    if (voc.isEmpty() && chip.passesSelfTest()) {
      voc =
          Optional.of(
              found(new LevelPart(new VocPart(chip, Origin.LIVE), cleanAir, pace), Sgp40.ADDRESS));
    }
  }

  private void lookForPid() throws BusFault {
    for (int address = Ads1115.LOWEST_ADDRESS; address <= Ads1115.HIGHEST_ADDRESS; address++) {
      Ads1115 chip = new Ads1115(i2c.device(address), pace, config.pid().input());
      if (pid.isEmpty() && chip.present()) {
        pid = Optional.of(found(new PidPart(chip, config.pid().calibration()), address));
      }
    }
  }

  private Part found(Part part, int address) {
    String place = "at I2C address 0x" + Integer.toHexString(address) + " on bus 1";
    places.put(part.name(), place);
    Logger.info("Found {} {}", part.name(), place);
    return OffsetPart.of(part, offsets, Optional.empty());
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
